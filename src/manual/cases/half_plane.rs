//! Pressure on a narrow strip of a large body, and a small cavity in a large body.

use super::shapes::{axial, body, field, hold, iron, load, polygon, pressure};
use crate::elastic::Around;
use crate::geometry::{Edge, Point};
use crate::manual::{Bench, Case, CaseFault, Chapter, Feature, Record, Source};
use crate::mesh::PointSize;
use crate::reference::compare::Tolerance;
use crate::reference::half_plane::below_strip;
use crate::reference::notch::cavity_ligament;

const JOHNSON: Source = Source::from_memory("Johnson, Contact Mechanics, section 2.5, eq. 2.30");
const GOODIER: Source =
    Source::from_memory("Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 137 (Goodier)");

pub(super) static CASES: &[Case] = &[
    Case {
        name: "strip-on-half-plane",
        title: "Pressure on a narrow strip",
        chapter: Chapter::EvenLoads,
        about: "A narrow band of pressure around a shaft so large that its surface is flat on the band's scale: stresses below the middle of the band against those of a half-plane.",
        features: &[
            Feature::HarmonicZero,
            Feature::Pressure,
            Feature::SolidBody,
            Feature::GuidedEdge,
            Feature::StraightEdges,
        ],
        run: strip,
    },
    Case {
        name: "spherical-cavity",
        title: "Small spherical cavity in a body under tension",
        chapter: Chapter::Notches,
        about: "The cavity lies on the axis of a thick bar that is pulled. One half is solved; the middle plane is guided.",
        features: &[
            Feature::HarmonicZero,
            Feature::Traction,
            Feature::SolidBody,
            Feature::GuidedEdge,
            Feature::NotchStress,
            Feature::StraightEdges,
            Feature::CurvedEdges,
        ],
        run: cavity,
    },
];

fn strip() -> Result<Record, CaseFault> {
    let (half_width, radius, low) = (1.0, 1000.0, 3.0);
    // One half of the band; its middle is the guided bottom.
    let edges = polygon(&[
        (0.0, low, "bottom"),
        (radius, low, "band"),
        (radius, low + half_width, "outside"),
        (radius, low + radius, "top"),
        (0.0, low + radius, "axis"),
    ]);
    let mut model = body("large shaft", edges, iron(110e3, 0.26), 400.0);
    model.sizing.on_tags.push(("band".to_owned(), 0.5 * half_width));
    model.sizing.growth = 0.5;
    hold(&mut model, "bottom", false, false, true);
    load(&mut model, pressure("band", 1.0), Around::Constant);
    let bench = Bench::solve(model, 2)?;
    // A ring of load of 2a per mm moves the surface by about (2/π)·2a·p·ln(R/a)/E, and that, over R, is
    // the hoop strain which a half-plane lacks.
    let hoop = std::f64::consts::FRAC_2_PI * 2.0 * half_width / radius * (radius / half_width).ln();
    let reason =
        "hoop strain of a shaft of finite radius, which the half-plane lacks, and a thousandth for the mesh";
    let mut rows = Vec::new();
    for depth in [0.5, 1.0, 2.0, 3.0, 5.0] {
        let exact = below_strip(depth);
        for (name, index, value) in [("normal", 0, exact.normal), ("lateral", 2, exact.lateral)] {
            let what = format!("{name} stress over pressure at depth {depth} a");
            let read = |s: &_| field(s, 0, (radius - depth * half_width, low), 0.3).1[index];
            let row = bench.row(what, "", JOHNSON, value, read);
            rows.push(row.within(Tolerance::Absolute(hoop + 1e-3), reason));
        }
    }
    let shear = |s: &_| {
        let stress = field(s, 0, (radius - half_width, low), 0.3).1;
        0.5 * (stress[2] - stress[0])
    };
    let row = bench.row("largest shear, at depth a", "", JOHNSON, below_strip(1.0).shear, shear);
    rows.push(row.within(Tolerance::Absolute(hoop + 1e-3), reason));
    Ok(bench.record(rows))
}

fn cavity() -> Result<Record, CaseFault> {
    let (hole, radius, low) = (10.0, 120.0, 3.0);
    let p = Point::new;
    let centre = p(0.0, low);
    let edges = vec![
        (Edge::line(p(hole, low), p(radius, low), 0), "bottom"),
        (Edge::line(p(radius, low), p(radius, low + radius), 0), "outside"),
        (Edge::line(p(radius, low + radius), p(0.0, low + radius), 0), "top"),
        (Edge::line(p(0.0, low + radius), p(0.0, low + hole), 0), "axis"),
        (Edge::arc_between(p(0.0, low + hole), p(hole, low), centre, false, 0), "cavity"),
    ];
    let mut rows = Vec::new();
    let mut record = Record::default();
    for poisson in [0.3, 0.26] {
        let mut model = body("bar with a cavity", edges.clone(), iron(110e3, poisson), 60.0);
        model.sizing.at_points.push(PointSize { at: p(hole, low), size_mm: 2.0 });
        hold(&mut model, "bottom", false, false, true);
        load(&mut model, axial("top", 1.0, 0.0), Around::Constant);
        let bench = Bench::solve(model, 2)?;
        // The bar's own section lacks (a/R)² of its area, and the field falls with the cube of the distance.
        let reason = "a bar of finite radius: square of the cavity's radius over the bar's; and two thousandths for the mesh";
        let share = (hole / radius).powi(2);
        for distance in [1.0, 1.25, 1.5, 2.0, 3.0] {
            let what = format!("ν {poisson}: axial stress over the far stress at r/a {distance}");
            let exact = cavity_ligament(poisson, distance);
            let row = bench.row(what, "", GOODIER, exact, |s| field(s, 0, (distance * hole, low), 0.3).1[2]);
            rows.push(row.within(Tolerance::Relative(share + 2e-3), reason));
        }
        record = bench.record(Vec::new());
    }
    record.rows = rows;
    Ok(record)
}
