//! The error bar of the peak stress against meshes far finer.

use super::sheet::{Sheet, drafted, seat, v_groove};
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::study::{BarProof, prove_bar};
use rayon::prelude::*;

const FINER: Source = Source::itself(
    "This program: sides a third as long at the peak, half as long elsewhere, 96 harmonics and more",
);

pub(super) static CASES: &[Case] = &[Case {
    name: "error-bar",
    title: "The error bar of a check's peak stress, on twelve invented wheels",
    chapter: Chapter::Convergence,
    about: "Each wheel is judged as a check judges it: a coarse mesh, then a mesh that is finer where the coarse one \
            finds its tension high, until the bar is within one per cent. Then the same peak is computed on a mesh \
            far finer. The difference must lie within the bar on every wheel. A bar that is wide without need \
            says little, so the middle one of all ratios of bar to true error is told.",
    features: &[Feature::PeakSearch],
    run: error_bar,
}];

const TWO_WEBS: &str = "kind = \"two webs\"\nbore = \"100 mm\"\nhub_diameter = \"170 mm\"\nhub_length = \"110 mm\"\n\
    hub_place = \"0 mm\"\n\n[[wheel.web]]\nplace = \"-24 mm\"\nthickness = \"11 mm\"\nrim_fillet = \"5 mm\"\n\
    hub_fillet = \"5 mm\"\n\n[[wheel.web]]\nplace = \"24 mm\"\nthickness = \"11 mm\"\nrim_fillet = \"5 mm\"\n\
    hub_fillet = \"5 mm\"";
const WEB_ASIDE: &str = "kind = \"one web\"\nbore = \"90 mm\"\nhub_diameter = \"160 mm\"\nhub_length = \"100 mm\"\n\
    hub_place = \"8 mm\"\n\n[[wheel.web]]\nplace = \"12 mm\"\nthickness = \"14 mm\"\nrim_fillet = \"3 mm\"\n\
    hub_fillet = \"8 mm\"";

fn wheel(groove: String, ropes: usize, draft: f64, wall: f64) -> Sheet {
    let mut sheet = Sheet::new(1100.0, 900.0, ropes);
    sheet.groove = groove;
    sheet.walls = drafted(draft, wall);
    sheet
}

/// The wheels with their names.
fn wheels() -> Vec<(&'static str, Sheet)> {
    let mut list = vec![
        ("round seats, three ropes", wheel(seat(30.0, 0.0, 6.9), 3, 3.0, 15.0)),
        ("round seats, five ropes, wide overhang", wheel(seat(30.0, 0.0, 6.9), 5, 2.0, 16.0)),
        ("round seats, thin wall", wheel(seat(30.0, 0.0, 6.9), 3, 3.0, 7.0)),
        ("slot of 80°", wheel(seat(30.0, 80.0, 6.9), 4, 3.0, 20.0)),
        ("slot of 100°, thin wall", wheel(seat(30.0, 100.0, 6.9), 3, 4.0, 14.0)),
        ("V grooves of 40°", wheel(v_groove(40.0), 3, 3.0, 18.0)),
        ("V grooves of 35°, five ropes", wheel(v_groove(35.0), 5, 2.0, 22.0)),
    ];
    let mut worn = wheel(seat(30.0, 0.0, 6.9), 4, 3.0, 17.0);
    worn.seat_depth_mm = vec![10.0, 12.5, 11.0, 10.5];
    list.push(("unequal wear", worn));
    let mut sharp = wheel(seat(30.0, 90.0, 6.9), 4, 3.0, 20.0);
    sharp.groove = sharp.groove.replace("slot_corner_radius = \"1.5 mm\"", "slot_corner_radius = \"0.8 mm\"");
    list.push(("slot corners of 0.8 mm", sharp));
    let mut disc = Sheet::new(1100.0, 900.0, 3);
    disc.groove = seat(30.0, 85.0, 6.9);
    list.push(("solid disc with slots", disc));
    let mut two = wheel(seat(30.0, 0.0, 6.9), 5, 2.0, 14.0);
    two.wheel = TWO_WEBS;
    list.push(("two webs", two));
    let mut aside = wheel(seat(30.0, 0.0, 6.9), 4, 2.0, 13.0);
    aside.wheel = WEB_ASIDE;
    aside.wrap_deg = 155.0;
    list.push(("web out of the middle, wrap of 155°", aside));
    list
}

fn error_bar() -> Result<Record, CaseFault> {
    let one = |(name, sheet): (&'static str, Sheet)| -> Result<(&'static str, BarProof), CaseFault> {
        prove_bar(&sheet.read()?)
            .map(|proof| (name, proof))
            .map_err(|fault| CaseFault::Other(format!("{name}: {fault}")))
    };
    let proofs = wheels().into_par_iter().map(one).collect::<Result<Vec<_>, CaseFault>>()?;
    let mut rows = Vec::new();
    let mut ratios = Vec::new();
    for (name, proof) in &proofs {
        let mut row = Row::new(format!("{name}: peak"), "MPa", FINER, proof.reference_mpa, proof.peak_mpa);
        row.estimate = Some(proof.bound_mpa);
        rows.push(
            row.doubt(proof.reference_step_mpa)
                .within(Tolerance::Absolute(proof.bound_mpa), "the bar that the check states"),
        );
        ratios.push(proof.bound_mpa / (proof.peak_mpa - proof.reference_mpa).abs());
    }
    ratios.sort_by(f64::total_cmp);
    let middle = 0.5 * (ratios[(ratios.len() - 1) / 2] + ratios[ratios.len() / 2]);
    let widest = proofs.iter().map(|(_, p)| p.bound_mpa / p.peak_mpa).fold(0.0, f64::max);
    let errors = proofs.iter().map(|(_, p)| (p.peak_mpa / p.reference_mpa - 1.0).abs());
    let unknowns = |get: fn(&BarProof) -> usize| {
        let counts = proofs.iter().map(|(_, proof)| get(proof));
        (counts.clone().min().unwrap_or(0), counts.max().unwrap_or(0))
    };
    let ((least, most), (least_finer, most_finer)) =
        (unknowns(|proof| proof.unknowns), unknowns(|proof| proof.reference_unknowns));
    Ok(Record::of_rows(rows).fact(format!(
        "{} wheels; the widest bar is {:.2} % of its peak, the largest true error {:.2} %, the median of bar over true error {middle:.1} (at most 5 is asked{}); judged with {least} to \
         {most} unknowns, references with {least_finer} to {most_finer}.",
        proofs.len(),
        100.0 * widest,
        100.0 * errors.fold(0.0, f64::max),
        if middle <= 5.0 { ": met" } else { ": not met" },
    )))
}
