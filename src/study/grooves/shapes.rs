//! The groove shapes that are set side by side, with every size that the survey leaves open named.
//!
//! Owns families, angles and stand-ins for sizes. Lacks depths and judgement. Units: mm, rad.
//! Angles: undercut β and V γ over the range that EN 81-50:2020, 5.11 and 5.12 tabulate (β 75–105°, γ 35–45°; seen
//! through a secondary copy).

use crate::survey::{GrooveShape, Survey};
use crate::units::Kind;
use serde::Serialize;

/// Undercut angles β that are compared (°).
pub const SLOT_DEG: [f64; 7] = [75.0, 80.0, 85.0, 90.0, 95.0, 100.0, 105.0];
/// V angles γ that are compared (°).
pub const V_DEG: [f64; 5] = [35.0, 38.0, 40.0, 42.0, 45.0];

/// What kind of groove it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Family {
    Round,
    Undercut,
    V,
    /// A measured line.
    Measured,
}

/// One shape that could be cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Proposal {
    /// As people call it, for instance "undercut 90°".
    pub name: String,
    pub family: Family,
    /// β of an undercut, γ of a V.
    pub angle_rad: Option<f64>,
    /// Whether a V's flanks are hardened after the cut.
    pub hardened: Option<bool>,
    /// The shape that the survey states to be cut.
    pub stated: bool,
    /// Whether the search for the best cut may choose it.
    pub eligible: bool,
    pub form: GrooveShape,
}

/// All shapes in the order of the table, and what stands in for sizes that the survey does not state.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposals {
    pub list: Vec<Proposal>,
    pub assumed: Vec<String>,
}

/// Sizes that all shapes of a family share.
struct Sizes {
    seat_radius_mm: f64,
    opening_angle_rad: f64,
    support_angle_rad: Option<f64>,
    slot_depth_mm: f64,
    slot_corner_radius_mm: f64,
    root_depth_mm: Option<f64>,
    root_radius_mm: f64,
    band_width_mm: f64,
    /// Whether the survey speaks of hardened V flanks.
    hardened: bool,
}

impl Sizes {
    /// From the shape to be cut, then from the grooves as found, then from common practice.
    fn of(survey: &Survey, assumed: &mut Vec<String>) -> Self {
        let (grooves, rope) = (&survey.grooves, survey.roping.rope_diameter_mm);
        let stated = || grooves.cut_to.iter();
        let any = || stated().chain(&grooves.now);
        let show = |mm: f64| survey.print.show(Kind::Length, mm);
        let seat = |shape: &GrooveShape| match shape {
            GrooveShape::Round { seat_radius_mm, opening_angle_rad, support_angle_rad }
            | GrooveShape::Undercut { seat_radius_mm, opening_angle_rad, support_angle_rad, .. } => {
                Some((*seat_radius_mm, *opening_angle_rad, *support_angle_rad))
            }
            _ => None,
        };
        let slot = |shape: &GrooveShape| match shape {
            GrooveShape::Undercut { slot_depth_mm, slot_corner_radius_mm, .. } => {
                Some((*slot_depth_mm, *slot_corner_radius_mm))
            }
            _ => None,
        };
        let v = |shape: &GrooveShape| match shape {
            GrooveShape::V { root_depth_mm, root_radius_mm, band_width_mm, hardened, .. } => {
                Some((*root_depth_mm, *root_radius_mm, *band_width_mm, *hardened))
            }
            _ => None,
        };
        // A worn seat has another radius than a new one; its flanks and its slot stay as they were cut.
        let (seat_radius_mm, support_angle_rad) = stated().find_map(seat).map_or_else(
            || {
                let radius = 0.53 * rope;
                assumed.push(format!(
                    "Round and undercut seats are cut with a radius of 0.53 of the rope's diameter, {} (common practice).",
                    show(radius)
                ));
                (radius, None)
            },
            |(radius, _, support)| (radius, support),
        );
        let opening_angle_rad = any().find_map(seat).map_or_else(
            || {
                assumed.push(
                    "The flanks of round and undercut seats are taken to open by 35° (common practice, no source)."
                        .into(),
                );
                35f64.to_radians()
            },
            |(_, opening, _)| opening,
        );
        let (slot_depth_mm, slot_corner_radius_mm) = any().find_map(slot).unwrap_or_else(|| {
            let sizes = (0.3 * rope, 0.12 * rope);
            assumed.push(format!(
                "Slots are taken {} deep with corners of {}: 0.3 and 0.12 of the rope's diameter (common practice, no source).",
                show(sizes.0),
                show(sizes.1)
            ));
            sizes
        });
        let (root_depth_mm, root_radius_mm, band_width_mm, hardened) =
            any().find_map(v).unwrap_or_else(|| {
                let sizes = (Some(0.3 * rope), 0.12 * rope, 0.25 * rope, false);
                assumed.push(format!(
                    "V grooves are taken with a flat root {} below the rope, its corners {}, and contact bands {} wide: 0.3, 0.12 and 0.25 of the rope's diameter (common practice, no source).",
                    show(0.3 * rope),
                    show(0.12 * rope),
                    show(0.25 * rope)
                ));
                sizes
            });
        Self {
            seat_radius_mm,
            opening_angle_rad,
            support_angle_rad,
            slot_depth_mm,
            slot_corner_radius_mm,
            root_depth_mm,
            root_radius_mm,
            band_width_mm,
            hardened,
        }
    }

    fn round(&self) -> GrooveShape {
        GrooveShape::Round {
            seat_radius_mm: self.seat_radius_mm,
            opening_angle_rad: self.opening_angle_rad,
            support_angle_rad: self.support_angle_rad,
        }
    }

    fn undercut(&self, degrees: f64) -> GrooveShape {
        GrooveShape::Undercut {
            seat_radius_mm: self.seat_radius_mm,
            opening_angle_rad: self.opening_angle_rad,
            support_angle_rad: self.support_angle_rad,
            slot_angle_rad: degrees.to_radians(),
            slot_depth_mm: self.slot_depth_mm,
            slot_corner_radius_mm: self.slot_corner_radius_mm,
        }
    }

    fn v(&self, degrees: f64, hardened: bool) -> GrooveShape {
        GrooveShape::V {
            angle_rad: degrees.to_radians(),
            root_depth_mm: self.root_depth_mm,
            root_radius_mm: self.root_radius_mm,
            band_width_mm: self.band_width_mm,
            hardened,
        }
    }
}

impl Proposal {
    /// A shape with the name that people give it.
    pub fn new(form: GrooveShape) -> Self {
        let degrees = |rad: f64| {
            let degrees = (rad.to_degrees() * 10.0).round() / 10.0;
            format!("{degrees}°")
        };
        let (name, family, angle_rad, hardened) = match &form {
            GrooveShape::Round { .. } => ("round".to_owned(), Family::Round, None, None),
            GrooveShape::Undercut { slot_angle_rad, .. } => {
                let angle = *slot_angle_rad;
                (format!("undercut {}", degrees(angle)), Family::Undercut, Some(angle), None)
            }
            GrooveShape::V { angle_rad, hardened, .. } => {
                let tail = if *hardened { " hardened" } else { "" };
                (format!("V {}{tail}", degrees(*angle_rad)), Family::V, Some(*angle_rad), Some(*hardened))
            }
            GrooveShape::Measured { .. } => ("as measured".to_owned(), Family::Measured, None, None),
        };
        Self { name, family, angle_rad, hardened, stated: false, eligible: true, form }
    }

    /// Whether two shapes are cut alike and differ at most in the hardness of their flanks.
    pub fn cut_alike(&self, other: &Self) -> bool {
        let soft = |form: &GrooveShape| match form.clone() {
            GrooveShape::V { angle_rad, root_depth_mm, root_radius_mm, band_width_mm, .. } => {
                GrooveShape::V { angle_rad, root_depth_mm, root_radius_mm, band_width_mm, hardened: false }
            }
            other => other,
        };
        soft(&self.form) == soft(&other.form)
    }
}

/// The shapes to set side by side for a survey.
pub fn proposals(survey: &Survey) -> Proposals {
    let mut assumed = Vec::new();
    let sizes = Sizes::of(survey, &mut assumed);
    let mut list = vec![Proposal::new(sizes.round())];
    list.extend(SLOT_DEG.map(|degrees| Proposal::new(sizes.undercut(degrees))));
    for degrees in V_DEG {
        for hardened in [false, true] {
            let eligible = hardened == sizes.hardened;
            list.push(Proposal { eligible, ..Proposal::new(sizes.v(degrees, hardened)) });
        }
    }
    if let Some(form) = &survey.grooves.cut_to {
        match list.iter_mut().find(|proposal| same(&proposal.form, form)) {
            Some(proposal) => proposal.stated = true,
            None => list.insert(0, Proposal { stated: true, ..Proposal::new(form.clone()) }),
        }
    }
    assumed.push(if sizes.hardened {
        "V grooves count with hardened flanks in the search, as the survey states them.".into()
    } else {
        "A cut takes a hardened skin away: in the search V grooves count as not hardened; the table shows both.".into()
    });
    Proposals { list, assumed }
}

/// Whether two shapes are the same but for the rounding of their angles.
fn same(a: &GrooveShape, b: &GrooveShape) -> bool {
    let rounded = |shape: &GrooveShape| {
        let nearest = |rad: f64| (rad * 1e9).round() / 1e9;
        let mut shape = shape.clone();
        match &mut shape {
            GrooveShape::Undercut { slot_angle_rad: angle, .. } | GrooveShape::V { angle_rad: angle, .. } => {
                *angle = nearest(*angle);
            }
            _ => {}
        }
        shape
    };
    rounded(a) == rounded(b)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::tests::one_web;

    #[test]
    fn the_stated_shape_is_among_them_once() {
        let survey = one_web();
        let all = proposals(&survey);
        assert_eq!(all.list.len(), 1 + SLOT_DEG.len() + 2 * V_DEG.len());
        let stated: Vec<&str> =
            all.list.iter().filter(|p| p.stated).map(|proposal| proposal.name.as_str()).collect();
        assert_eq!(stated, ["undercut 90°"]);
        assert!(all.list.iter().all(|p| p.eligible != (p.hardened == Some(true))));
        // Seat and slot are the stated ones; only the V's sizes stand in.
        assert_eq!(all.assumed.len(), 2, "{:?}", all.assumed);
    }

    #[test]
    fn a_stated_shape_off_the_list_comes_first() {
        let mut survey = one_web();
        if let Some(GrooveShape::Undercut { slot_angle_rad, .. }) = &mut survey.grooves.cut_to {
            *slot_angle_rad = 93f64.to_radians();
        }
        let all = proposals(&survey);
        assert_eq!((all.list[0].name.as_str(), all.list[0].stated), ("undercut 93°", true));
        survey.grooves.cut_to = None;
        assert!(proposals(&survey).list.iter().all(|proposal| !proposal.stated));
    }

    #[test]
    fn hardened_flanks_change_no_cut() {
        let all = proposals(&one_web()).list;
        let v: Vec<&Proposal> = all.iter().filter(|proposal| proposal.family == Family::V).collect();
        assert!(v[0].cut_alike(v[1]) && !v[1].cut_alike(v[2]) && !v[0].cut_alike(&all[0]));
    }
}
