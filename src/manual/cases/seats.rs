//! The cosine law in grooves: pressure as the body feels it.

use super::shapes::iron;
use super::sheet::{Sheet, seat};
use crate::elastic::{Around, Case as LoadCase, Hold, Law, Model, Pattern, Solution, Support, Term};
use crate::geometry::Point;
use crate::hoist::pressure::CosineLaw;
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::mesh::Sizing;
use crate::reference::compare::Tolerance;
use crate::reference::seat::crest_mpa;
use crate::section::{Groove, Kind, Place, Section, State};
use std::f64::consts::PI;

const COSINE: Source = Source::exact(
    "the traction on a loaded surface is the pressure, p0·cos φ (Feyrer, Wire Ropes, section 3.4), p0 from the radial \
     force over the turned arc",
);
const HANDBOOK: Source = Source::exact(
    "p0 from the radial force over the turned arc, against p0 = 2q/(ρ(2φ2 + sin 2φ2 − 2φ1 − sin 2φ1)) with q at the \
     seat's bottom",
);
const FREE: Source = Source::exact("no traction along the surface");
const HOOP: Source = Source::exact("equilibrium of half a free ring: hoop force through the section = −T");
const BALANCE: Source = Source::exact("equilibrium: ∫ T·cos θ·cos θ dθ = π·T");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "round-seat-pressure",
        title: "Cosine pressure on a round seat",
        chapter: Chapter::Grooves,
        about: "The program builds a solid wheel with one round seat from a survey and loads the seat the same all \
                round, and once with the cosine of θ. The stress normal to the seat is recovered from the solution; it \
                must be the pressure. The bore is free to widen, so the section carries the whole load as hoop force.",
        features: &[
            Feature::HarmonicZero,
            Feature::HarmonicOne,
            Feature::CosineBearing,
            Feature::GuidedEdge,
            Feature::StraightEdges,
            Feature::CurvedEdges,
            Feature::RoundSeats,
            Feature::SolidDisc,
            Feature::SeatPressure,
        ],
        run: round,
    },
    Case {
        name: "undercut-seat-pressure",
        title: "Cosine pressure on an undercut seat",
        chapter: Chapter::Grooves,
        about: "The same wheel with an undercut seat: the pressure begins at the slot.",
        features: &[
            Feature::HarmonicZero,
            Feature::HarmonicOne,
            Feature::CosineBearing,
            Feature::GuidedEdge,
            Feature::StraightEdges,
            Feature::CurvedEdges,
            Feature::UndercutSeats,
            Feature::SolidDisc,
            Feature::SeatPressure,
        ],
        run: undercut,
    },
];

/// Tension of the rope, N; the solutions are for 1 N and are multiplied by it.
const TENSION_N: f64 = 5000.0;
const HALVINGS: usize = 2;
/// Arc of the seat that one element side covers on the first mesh, rad.
const STEP_RAD: f64 = 0.2;

fn round() -> Result<Record, CaseFault> {
    record(0.0, &[0.0, 30.0, -60.0])
}

fn undercut() -> Result<Record, CaseFault> {
    record(90.0, &[52.5, 60.0, -67.5])
}

fn record(slot_deg: f64, angles_deg: &[f64]) -> Result<Record, CaseFault> {
    let (opening, radius) = (30.0, 6.9);
    let mut sheet = Sheet::new(1000.0, 800.0, 1);
    sheet.groove = seat(opening, slot_deg, radius);
    let place = Place { kind: Kind::Uniform, walls: Vec::new(), lines: None };
    let section = Section::build(&sheet.read()?, State::Now, &place)
        .map_err(|faults| CaseFault::Other(format!("{faults:?}")))?;
    let groove = section.grooves[0].clone();
    let (Law::Cosine { centre }, Some((from, to))) = (groove.seat.law, groove.seat.contact_rad) else {
        return Err(CaseFault::of("the seat has no cosine law"));
    };
    let bench = Bench::solve(model(section, &groove), HALVINGS)?;
    let crest = crest_mpa(TENSION_N, groove.seat_radius_mm, radius, from, to);
    let hundredth = Tolerance::Absolute(0.01 * crest);
    let second = "a hundredth of p0; stresses on a curved surface err with the square of the element's side, here a \
                  twentieth of the seat's radius";
    let mut rows = Vec::new();
    for angle in angles_deg {
        let phi = angle.to_radians();
        let what = format!("stress normal to the seat at φ {angle}°, −p0·cos φ");
        let reference = -crest * phi.cos();
        let row = bench.row(what, "MPa", COSINE, reference, |s| tractions(s, centre, radius, phi)[0]);
        rows.push(row.within(hundredth, second));
    }
    let phi = angles_deg[1].to_radians();
    let what = format!("shear stress along the seat at φ {}°", angles_deg[1]);
    let row = bench.row(what, "MPa", FREE, 0.0, |s| tractions(s, centre, radius, phi)[1]);
    rows.push(row.within(hundredth, second));
    let row = bench.row("hoop force through the section", "N", HOOP, -TENSION_N, hoop_force);
    let reason = "a thousandth; nodal stresses of second order, summed over the section";
    rows.push(row.within(Tolerance::Relative(1e-3), reason));
    let reaction = TENSION_N * bench.finest().balance[1].reaction.force_n[0];
    let row = Row::new("support force under T·cos θ, along θ = 0", "N", BALANCE, PI * TENSION_N, reaction);
    let reason = "the bound on the balance that every analysis must keep";
    rows.push(row.within(Tolerance::Relative(1e-6), reason));
    let law = CosineLaw::new(from, to).map_err(CaseFault::of)?;
    let line_load = TENSION_N / groove.seat_radius_mm;
    let handbook = law.crest_mpa(line_load, radius).map_err(CaseFault::of)?;
    let spread = radius * (1.0 - to.cos()) / groove.seat_radius_mm;
    let reason =
        "the formula takes the radius of the seat's bottom for the whole arc, which reaches this much higher";
    let row = Row::new("p0 by the formula for a line load", "MPa", HANDBOOK, crest, handbook);
    rows.push(row.within(Tolerance::Relative(spread), reason));
    Ok(bench.record(rows).fact(format!("The rope's tension is {TENSION_N} N; p0 is {crest:.3} MPa.")))
}

fn model(section: Section, groove: &Groove) -> Model {
    let course = |around| vec![Term { pattern: 0, around }];
    Model {
        title: "one seat".to_owned(),
        outline: section.outline,
        sizing: Sizing {
            largest_mm: 30.0,
            through_wall: 0.1,
            fillet_step_rad: STEP_RAD,
            ..Sizing::default()
        },
        iron: iron(110e3, 0.26),
        supports: vec![Support { tag: section.support, hold: Hold { r: false, theta: true, z: true } }],
        patterns: vec![Pattern::Bearing { tags: vec![groove.seat.tag.clone()], law: groove.seat.law }],
        cases: vec![
            LoadCase { name: "even".to_owned(), terms: course(Around::Constant) },
            LoadCase { name: "once around".to_owned(), terms: course(Around::Cos(1)) },
        ],
    }
}

/// Stress normal to the seat and along it, at φ from the groove's bottom.
fn tractions(solution: &Solution, centre: Point, radius_mm: f64, phi: f64) -> [f64; 2] {
    let towards = Point::new(-phi.cos(), phi.sin());
    let at = solution.mesh.nearest_on_boundary(centre + towards * radius_mm);
    let Some((_, stress)) = solution.at(0, at, 0.0) else { return [f64::NAN; 2] };
    let along = towards.left();
    let pull = Point::new(
        stress[0] * towards.r + stress[5] * towards.z,
        stress[5] * towards.r + stress[2] * towards.z,
    );
    [TENSION_N * pull.dot(towards), TENSION_N * pull.dot(along)]
}

/// ∫ σ_θθ dA over the section, from the nodal stresses of every triangle.
fn hoop_force(solution: &Solution) -> f64 {
    let mesh = &solution.mesh;
    let of = |triangle: &[usize; 6]| {
        let [a, b, c] = [0, 1, 2].map(|corner| mesh.nodes[triangle[corner]]);
        let area = 0.5 * (b - a).cross(c - a);
        // Exact for a quadratic course: the mean of the midside values.
        area * triangle[3..].iter().map(|node| solution.stress(0, *node, 0.0)[1]).sum::<f64>() / 3.0
    };
    TENSION_N * mesh.triangles.iter().map(of).sum::<f64>()
}
