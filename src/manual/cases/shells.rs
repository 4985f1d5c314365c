//! Long cylinders under bands of pressure, at free edges, and as rope drums: against shell theory.

use super::shapes::{
    Wall, body, field, further_case, hold, iron, load_in, pattern, polygon, pressure, through_wall, traction,
};
use crate::elastic::{Around, Field, Model, Pattern, Solution};
use crate::geometry::Point;
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::mesh::PointSize;
use crate::reference::compare::Tolerance;
use crate::reference::cylinder::{Shell, rope_drum};

const SHELL: Source = Source::from_memory(
    "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 114-115; Hetényi, Beams on Elastic Foundation",
);
const TWIN: Source = Source::independent(
    "8-node quadrilaterals, sixteen through the wall, the same cylinder and band (validation/banded_cylinder.py)",
);

const ORDER: &str = "thin-shell theory leaves out terms of the order of the wall over the radius";

const CLAMP_ORDER: &str = "thin-shell theory leaves out terms of the order of the wall over the radius, and the shear that a short distance to the clamp brings, as much again";

const FEATURES: &[Feature] =
    &[Feature::HarmonicZero, Feature::Pressure, Feature::GuidedEdge, Feature::StraightEdges];

pub(super) static CASES: &[Case] = &[
    Case {
        name: "cylinder-under-band",
        title: "Long cylinder under a band of pressure",
        chapter: Chapter::ShellsAndPlates,
        about: "A cylinder of a sheave rim's size under bands of four widths, compared with thin-shell theory and, for two of the bands, with another program's solution of the same solid. The bore below a band is in axial tension. Shell theory puts the load on the middle surface, so its pressure is the outside one times the ratio of the radii; its moments and forces are compared with those integrated through the wall.",
        features: FEATURES,
        run: under_band,
    },
    Case {
        name: "thin-cylinder",
        title: "Thin long cylinder: line load, band, free edge",
        chapter: Chapter::ShellsAndPlates,
        about: "The same theory where it is meant to hold: a thin wall, with a narrow band for the line load, a wide band, and a shear force on a free edge.",
        features: &[
            Feature::HarmonicZero,
            Feature::Pressure,
            Feature::Traction,
            Feature::GuidedEdge,
            Feature::StraightEdges,
        ],
        run: thin,
    },
    Case {
        name: "rope-drum",
        title: "Rope drum: one turn, half wound, fully wound",
        chapter: Chapter::ShellsAndPlates,
        about: "The shell of a rope drum under one turn, and wound over one of its halves: hoop stress far inside the winding and the bending beside its edge. The dimensions are those of a published drum; the figures are shell theory's.",
        features: FEATURES,
        run: drum,
    },
    Case {
        name: "clamped-cylinder",
        title: "Long cylinder clamped at its end, pressed beside the clamp",
        chapter: Chapter::ShellsAndPlates,
        about: "What a report's estimate of the thin rim beside the web rests on: the bending of a cylinder between its clamped end and a narrow band of pressure, by the closed form and by this program's solid. Two walls from the clamp, where the clamp's own disturbance through the wall has died out.",
        features: &[
            Feature::HarmonicZero,
            Feature::Pressure,
            Feature::FixedEdge,
            Feature::StraightEdges,
            Feature::RimEstimate,
        ],
        run: clamped,
    },
];

const LOW: f64 = 3.0;

/// A cylinder standing on the guided bottom, its outside cut at heights above the bottom into tagged parts.
fn cylinder(title: &str, shell: Shell, cuts: &[(f64, &'static str)], size: f64) -> Model {
    let (bore, outside) = (shell.radius_mm - 0.5 * shell.wall_mm, shell.radius_mm + 0.5 * shell.wall_mm);
    let mut points = vec![(bore, LOW, "bottom")];
    let mut height = 0.0;
    for (cut, tag) in cuts {
        points.push((outside, LOW + height, *tag));
        height = *cut;
    }
    points.push((outside, LOW + height, "top"));
    points.push((bore, LOW + height, "bore"));
    let mut model = body(title, polygon(&points), iron(shell.young_mpa, shell.poisson), size);
    hold(&mut model, "bottom", false, false, true);
    model
}

fn push(tags: &[&str], mpa: f64) -> Pattern {
    Pattern::Pressure {
        tags: tags.iter().map(|tag| (*tag).to_owned()).collect(),
        value: Field::constant(mpa),
    }
}

/// What one axial or hoop stress carries through the wall at a height above the bottom.
fn wall(solution: &Solution, case: usize, shell: Shell, height: f64, component: usize) -> Wall {
    let radii = [-0.5, 0.5].map(|side| shell.radius_mm + side * shell.wall_mm);
    through_wall(solution, case, radii.map(|r| (r, LOW + height)), 0.3, component)
}

/// Displacement, moment and hoop force against shell theory, per case and height.
struct Compared<'a> {
    bench: &'a Bench,
    shell: Shell,
    tolerance: Tolerance,
    reason: &'static str,
}

impl Compared<'_> {
    fn inward(&self, label: &str, case: usize, height: f64, exact: f64) -> Row {
        let at = (self.shell.radius_mm, LOW + height);
        let what = format!("{label}inward displacement");
        let read = |s: &_| -field(s, case, at, 0.3).0[0];
        self.bench.row(what, "mm", SHELL, exact, read).within(self.tolerance, self.reason)
    }

    /// The bending stress 6M/t² of the wall's moment, tension inside.
    fn bending(&self, label: &str, case: usize, height: f64, moment_n: f64) -> Row {
        let what = format!("{label}axial bending stress 6M/t²");
        let read = |s: &_| -self.shell.bending_mpa(wall(s, case, self.shell, height, 2).moment);
        let exact = self.shell.bending_mpa(moment_n);
        self.bench.row(what, "MPa", SHELL, exact, read).within(self.tolerance, self.reason)
    }

    /// The wall's mean hoop compression; `squeeze` is the pressure on the wall there, of whose mean
    /// radial stress the share ν appears in the hoop direction beside the shell's E·w/R.
    fn hoop(&self, label: &str, case: usize, height: f64, exact: f64, squeeze: f64) -> Row {
        let what = format!("{label}mean hoop compression");
        let exact = exact + 0.5 * self.shell.poisson * squeeze;
        let read = |s: &_| -wall(s, case, self.shell, height, 1).force / self.shell.wall_mm;
        self.bench.row(what, "MPa", SHELL, exact, read).within(self.tolerance, self.reason)
    }
}

fn under_band() -> Result<Record, CaseFault> {
    let shell = Shell { radius_mm: 265.0, wall_mm: 30.0, young_mpa: 110e3, poisson: 0.26 };
    let tags = ["to 10", "to 20", "to 40", "to 80"];
    let half_widths = [10.0, 20.0, 40.0, 80.0];
    let cuts = [(10.0, tags[0]), (20.0, tags[1]), (40.0, tags[2]), (80.0, tags[3]), (500.0, "bare")];
    let mut model = cylinder("cylinder under bands", shell, &cuts, 30.0);
    model.sizing.on_tags.extend(tags[..3].iter().map(|tag| ((*tag).to_owned(), 10.0)));
    let bore = shell.radius_mm - 0.5 * shell.wall_mm;
    model.sizing.at_points.push(PointSize { at: Point::new(bore, LOW), size_mm: 5.0 });
    for (index, c) in half_widths.into_iter().enumerate() {
        let case = if index == 0 { 0 } else { further_case(&mut model, "band") };
        model.cases[case].name = format!("band to z {}", LOW + c);
        let band = pattern(&mut model, push(&tags[..=index], 1.0));
        load_in(&mut model, case, band, Around::Constant);
    }
    let bench = Bench::solve(model, 2)?;
    let outside = shell.radius_mm + 0.5 * shell.wall_mm;
    let ratio = outside / shell.radius_mm;
    let tolerance = Tolerance::Relative(shell.wall_mm / shell.radius_mm);
    let compared = Compared { bench: &bench, shell, tolerance, reason: ORDER };
    let mut rows = Vec::new();
    for (case, c) in half_widths.into_iter().enumerate() {
        let exact = shell.band_load(ratio, c);
        let label = format!("half-width {c}: ");
        rows.push(compared.inward(&label, case, 0.0, exact.displacement_mm));
        rows.push(compared.bending(&label, case, 0.0, exact.moment_n));
        rows.push(compared.hoop(&label, case, 0.0, shell.hoop_mpa(exact.displacement_mm), 1.0));
    }
    // Value on the other program's finest mesh, and how far its last refinement moved it.
    type Stress = (f64, usize, f64, f64);
    let twins: [(usize, f64, [Stress; 4], f64); 2] = [
        (
            1,
            20.0,
            [
                (bore, 2, 3.6232, 0.0063),
                (bore, 1, -1.9443, 0.0011),
                (outside, 2, -3.5710, 0.0045),
                (outside, 1, -3.7437, 0.0001),
            ],
            -6.5672e-3,
        ),
        (
            2,
            40.0,
            [
                (bore, 2, 5.1384, 0.0040),
                (bore, 1, -4.0332, 0.0011),
                (outside, 2, -4.9027, 0.0031),
                (outside, 1, -6.2415, 0.0003),
            ],
            -12.1594e-3,
        ),
    ];
    for (case, c, stresses, moved) in twins {
        let reason = "the other program's last refinement, and a thousandth for this program's mesh";
        for (r, component, value, step) in stresses {
            let place = if r == bore { "bore" } else { "outside" };
            let name = if component == 2 { "axial" } else { "hoop" };
            let read = |s: &_| field(s, case, (r, LOW), 0.3).1[component];
            let what = format!("half-width {c}: {name} stress, {place}, solid");
            let row = bench.row(what, "MPa", TWIN, value, read).doubt(step);
            rows.push(row.within(Tolerance::Absolute(step + 1e-3 * f64::abs(value)), reason));
        }
        let read = |s: &_| field(s, case, (shell.radius_mm, LOW), 0.3).0[0];
        let what = format!("half-width {c}: radial displacement of the middle, solid");
        let row = bench.row(what, "mm", TWIN, moved, read).doubt(5e-8);
        let reason = "half a unit of the last digit, and a ten-thousandth for this program's mesh";
        rows.push(row.within(Tolerance::Absolute(5e-8 + 1e-4 * f64::abs(moved)), reason));
    }
    Ok(bench.record(rows).fact(format!(
        "Outside pressure is carried to shell theory's middle surface times {outside}/{} = {ratio:.4}.",
        shell.radius_mm
    )))
}

fn thin() -> Result<Record, CaseFault> {
    let shell = Shell { radius_mm: 500.0, wall_mm: 5.0, young_mpa: 110e3, poisson: 0.26 };
    let outside = shell.radius_mm + 0.5 * shell.wall_mm;
    let (line, band) = (0.2 * shell.wall_mm, 40.0);
    let cuts = [(line, "line"), (band, "band"), (300.0, "bare")];
    let mut model = cylinder("thin cylinder", shell, &cuts, 5.0);
    model.cases[0].name = "line load".to_owned();
    let carried = outside / shell.radius_mm;
    let narrow = pattern(&mut model, push(&["line"], 1.0));
    load_in(&mut model, 0, narrow, Around::Constant);
    let wide = pattern(&mut model, push(&["line", "band"], 1.0));
    let case = further_case(&mut model, "band");
    load_in(&mut model, case, wide, Around::Constant);
    let edge = traction("top", [Field::constant(-1.0), Field::default(), Field::default()]);
    let edge = pattern(&mut model, edge);
    let case = further_case(&mut model, "free edge");
    load_in(&mut model, case, edge, Around::Constant);
    let bench = Bench::solve(model, 2)?;
    let tolerance = Tolerance::Relative(shell.wall_mm / shell.radius_mm);
    let compared = Compared { bench: &bench, shell, tolerance, reason: ORDER };
    let mut rows = Vec::new();
    for (label, case, c) in [("line load: ", 0, line), ("band: ", 1, band)] {
        let exact = shell.band_load(carried, c);
        rows.push(compared.inward(label, case, 0.0, exact.displacement_mm));
        rows.push(compared.bending(label, case, 0.0, exact.moment_n));
        rows.push(compared.hoop(label, case, 0.0, shell.hoop_mpa(exact.displacement_mm), 1.0));
    }
    // One MPa of shear over the wall.
    let exact = shell.edge_shear(shell.wall_mm);
    rows.push(compared.inward("free edge: ", 2, 300.0, exact.displacement_mm));
    // The moment has the other sign beside a free edge that is pressed inwards.
    let peak = 300.0 - shell.edge_peak_distance_mm();
    rows.push(compared.bending("free edge, highest: ", 2, peak, -exact.moment_n));
    Ok(bench.record(rows))
}

fn clamped() -> Result<Record, CaseFault> {
    let shell = Shell { radius_mm: 500.0, wall_mm: 5.0, young_mpa: 110e3, poisson: 0.26 };
    let outside = shell.radius_mm + 0.5 * shell.wall_mm;
    let half_width = 1.0;
    let mut rows = Vec::new();
    let mut last = None;
    for distance in [20.0, 40.0] {
        let cuts = [(distance - half_width, "bare"), (distance + half_width, "band"), (300.0, "rest")];
        let mut model = cylinder("clamped cylinder", shell, &cuts, 5.0);
        model.supports.clear();
        hold(&mut model, "bottom", true, true, true);
        model.sizing.on_tags.push(("band".to_owned(), half_width));
        let squeeze = pattern(&mut model, pressure("band", 1.0));
        load_in(&mut model, 0, squeeze, Around::Constant);
        let bench = Bench::solve(model, 2)?;
        let tolerance = Tolerance::Relative(2.0 * shell.wall_mm / shell.radius_mm);
        let compared = Compared { bench: &bench, shell, tolerance, reason: CLAMP_ORDER };
        let load = 2.0 * half_width * outside / shell.radius_mm;
        let at = 2.0 * shell.wall_mm;
        let exact = shell.beside_clamp_n(load, distance, at);
        let label = format!("load at {distance} mm: ");
        rows.push(compared.bending(&label, 0, at, -exact));
        last = Some(bench);
    }
    let bench = last.ok_or_else(|| CaseFault::of("no load was set"))?;
    Ok(bench.record(rows))
}

fn drum() -> Result<Record, CaseFault> {
    let shell = Shell { radius_mm: 500.0, wall_mm: 70.0, young_mpa: 210e3, poisson: 0.3 };
    let (tension, pitch) = (1.96e6, 65.0);
    let outside = shell.radius_mm + 0.5 * shell.wall_mm;
    // The bottom is the middle of a long drum; one turn lies there, and the winding reaches half-way up.
    let (turn, wound) = (10.0, 700.0);
    let cuts = [(turn, "turn"), (wound, "wound"), (2.0 * wound, "bare")];
    let mut model = cylinder("rope drum", shell, &cuts, 50.0);
    model.sizing.on_tags.push(("turn".to_owned(), 10.0));
    model.cases[0].name = "half wound".to_owned();
    let winding = pattern(&mut model, push(&["turn", "wound"], tension / (pitch * outside)));
    load_in(&mut model, 0, winding, Around::Constant);
    let case = further_case(&mut model, "one turn");
    let squeeze = tension / (2.0 * turn * outside);
    let single = pattern(&mut model, pressure("turn", squeeze));
    load_in(&mut model, case, single, Around::Constant);
    let bench = Bench::solve(model, 2)?;
    let exact = rope_drum(shell, tension, pitch);
    let tolerance = Tolerance::Relative(shell.wall_mm / shell.radius_mm);
    let compared = Compared { bench: &bench, shell, tolerance, reason: ORDER };
    let moment = |bending: f64| bending * shell.wall_mm.powi(2) / 6.0;
    let inside = wound - shell.edge_peak_distance_mm();
    let rows = vec![
        compared.hoop("fully wound: ", 0, 0.0, exact.full_hoop_mpa, 0.0),
        compared.bending("edge of the winding, pressed side: ", 0, inside, moment(exact.edge_bending_mpa)),
        compared.hoop("edge of the winding: ", 0, wound, 0.5 * exact.full_hoop_mpa, 0.0),
        compared.hoop("one turn: ", case, 0.0, exact.turn_hoop_mpa, squeeze),
        compared.bending("one turn: ", case, 0.0, moment(exact.turn_bending_mpa)),
    ];
    Ok(bench.record(rows).fact(format!(
        "Rope tension {tension} N, pitch {pitch} mm; the single turn is a band {} mm wide.",
        2.0 * turn
    )))
}
