//! The overhanging rim as a long thin cylinder clamped at the web's face, under the ropes' line loads.
//!
//! An estimate of size, not of place: it knows no slots and no fillets, takes the load as the same all round, and the
//! rim as long. Without shell action the same strip is a cantilever, which bends more.

use super::ThinRim;
use crate::reference::cylinder::Shell;
use crate::study::Outcome;
use crate::survey::{Survey, Wheel};

/// A rope's line load and its distance from the web's face.
struct Pushed {
    groove: usize,
    load_n_mm: f64,
    distance_mm: f64,
}

/// The side that bends more; `None` where no roped groove with a known wall overhangs a web.
pub(super) fn thin_rim(survey: &Survey, outcome: &Outcome) -> Option<ThinRim> {
    let sides = [-1.0, 1.0].into_iter().filter_map(|side| estimate(survey, outcome, side));
    sides.max_by(|a, b| a.stress_mpa.total_cmp(&b.stress_mpa))
}

/// Face of the outermost web on a side (mm from the middle of the rim).
fn face_mm(survey: &Survey, side: f64) -> Option<f64> {
    let faces: Vec<f64> = match &survey.wheel {
        Wheel::SolidDisc { .. } => Vec::new(),
        Wheel::OneWeb { web, .. } => vec![side * web.place_mm + 0.5 * web.thickness_mm],
        Wheel::TwoWebs { webs, .. } => {
            webs.iter().map(|web| side * web.place_mm + 0.5 * web.thickness_mm).collect()
        }
        Wheel::BoltedRim { flange } => vec![side * flange.place_mm + 0.5 * flange.thickness_mm],
    };
    faces.into_iter().reduce(f64::max)
}

fn estimate(survey: &Survey, outcome: &Outcome, side: f64) -> Option<ThinRim> {
    let face = face_mm(survey, side)?;
    let result = &outcome.result;
    let walls = &result.places[result.governing.place].walls;
    let least = |number: usize| walls.iter().find(|wall| wall.groove == number)?.least_mm;
    let grooves = &outcome.section.grooves;
    let over = |z: f64| side * z - face;
    let nearest = grooves
        .iter()
        .filter(|groove| over(groove.z_mm) > 0.0 && least(groove.number).is_some())
        .min_by(|a, b| over(a.z_mm).total_cmp(&over(b.z_mm)))?;
    let wall_mm = least(nearest.number)?;
    let radius_mm = nearest.lowest_radius_mm - 0.5 * wall_mm;
    let roped = grooves.iter().zip(&survey.grooves.roped).filter(|(_, roped)| **roped).map(|(g, _)| g);
    // Of a double wrap a pass may be tighter at the end that is nearer to the light side.
    let judged = &result.loads.judged;
    let tighter = judged.heavy_n.iter().zip(&judged.light_n).map(|(heavy, light)| heavy.max(*light));
    let pushed: Vec<Pushed> = roped
        .zip(tighter)
        .filter(|(groove, _)| over(groove.z_mm) > 0.0)
        .map(|(groove, tension)| Pushed {
            groove: groove.number,
            load_n_mm: tension / radius_mm,
            distance_mm: over(groove.z_mm),
        })
        .collect();
    if pushed.is_empty() {
        return None;
    }
    let metal = &result.metal;
    let shell = Shell { radius_mm, wall_mm, young_mpa: metal.young_mpa, poisson: metal.poisson };
    let moment_n = pushed.iter().map(|p| shell.clamped_moment_n(p.load_n_mm, p.distance_mm)).sum();
    let strip_moment_n = pushed.iter().map(|p| p.load_n_mm * p.distance_mm).sum();
    Some(ThinRim {
        grooves: pushed.iter().map(|p| p.groove).collect(),
        wall_mm,
        radius_mm,
        decay_per_mm: shell.beta_per_mm(),
        moment_n,
        strip_moment_n,
        stress_mpa: shell.bending_mpa(moment_n),
        strip_stress_mpa: shell.bending_mpa(strip_moment_n),
    })
}
