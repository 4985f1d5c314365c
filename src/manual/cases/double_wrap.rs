//! Double wrap: the tension between the passes, what it settles to, its history, and the load on both shafts.

use super::shapes::{hold, iron, tube};
use super::sheet::{Sheet, survey_of};
use crate::elastic::{Case as ElasticCase, Law, Options, Pattern, Region, Term};
use crate::hoist::double_wrap::{
    Machine, Pass, Rope, Run, Steady, between_by, drive_pull_n, march, secondary_pull_n, steady,
};
use crate::hoist::{LoadCase, RopeWrap, load_cases};
use crate::manual::bench::Bench;
use crate::manual::{Case, CaseFault, Chapter, Feature, Record, Row, Source};
use crate::reference::compare::Tolerance;
use crate::reference::rope::{active_arc_rad, creeping_tension_n, resultant_n};
use crate::survey::{Creep, Survey};
use std::f64::consts::{PI, TAU};

const EULER: Source = Source::exact(
    "Euler–Eytelwein on one pass: a pass at the end of its grip has the ratio e^(fα), whichever way it drives",
);
const ARCS: Source = Source::from_memory(
    "active arc |ln(Ta/Tb)|/f: Johnson, Contact Mechanics, section 8.5; Firbank, International Journal of Mechanical \
     Sciences 12 (1970)",
);
const HOOKE: Source =
    Source::exact("Hooke's law and conservation of rope: both passes take on R/(1 + T_on/EA)");
const PLAIN: Source = Source::exact("equilibrium of two half turns: T1 + 2·Ti + T2 and 2·Ti, Ti = √(T1·T2)");
const VECTOR: Source = Source::exact(
    "equilibrium: every pass pulls with (Ta + Tb)·sin(α/2) along its middle and (Ta − Tb)·cos(α/2) across it",
);
const RELAX: Source = Source::exact("linear relaxation for small strains: Ti − T1 falls as e^(−Rφ/L)");
const MISMATCH: Source = Source::exact("EA·π·ΔD/L in one turn, before the first slip");
const WORK: Source =
    Source::exact("energy: machine's work = work on car and counterweight + creep + slip + stretch");

const ROUNDING: &str = "closed form against closed form, rounding only";
/// Rope of 13 mm: 65 mm² at 70 GPa.
const EA: f64 = 4.55e6;

pub(super) static CASES: &[Case] = &[
    Case {
        name: "double-wrap-bounds",
        title: "What friction lets the tension between two passes be",
        chapter: Chapter::Ropes,
        about: "Bounds for both ways of driving, with unequal grips; one pass without grip leaves a single wrap.",
        features: &[Feature::DoubleWrapBounds],
        run: bounds,
    },
    Case {
        name: "double-wrap-creep",
        title: "What a long run makes of the tension between two passes",
        chapter: Chapter::Ropes,
        about: "Elastic creep with equal diameters, with a mismatch, and with a rigid rope that slips at the smallest \
                mismatch; active arcs of both passes.",
        features: &[Feature::DoubleWrapCreep],
        run: creep,
    },
    Case {
        name: "double-wrap-history",
        title: "Ropes marched over the turns",
        chapter: Chapter::Ropes,
        about: "One rope relaxing along an exponential, one turn of mismatch, a pass that slips and stays at its limit, \
                rope and energy accounted for, and two unequal ropes on one car.",
        features: &[Feature::DoubleWrapHistory],
        run: history,
    },
    Case {
        name: "double-wrap-shaft-load",
        title: "Load of a double wrap on both shafts",
        chapter: Chapter::Ropes,
        about: "A survey with a double wrap is written as text and read; the tensions in its grooves are added up, with \
                half turns and with wraps whose middles differ.",
        features: &[Feature::DoubleWrapLoads],
        run: shaft,
    },
    Case {
        name: "double-wrap-support",
        title: "Support of a wheel under two passes",
        chapter: Chapter::Ropes,
        about: "A tube under both passes of one rope, one of them holding back: the elastic solution's support force \
                and moment against the rope pulls.",
        features: &[Feature::DoubleWrapLoads],
        run: support,
    },
];

fn exact(what: String, unit: &'static str, source: Source, reference: f64, computed: f64) -> Row {
    Row::new(what, unit, source, reference, computed).within(Tolerance::Relative(1e-12), ROUNDING)
}

fn bounds() -> Result<Record, CaseFault> {
    let (heavy, light) = (8000.0, 5500.0);
    let [first, second] = [(0.2, 2.9), (0.18, 2.4)];
    let grips = [first.0 * first.1, second.0 * second.1];
    let mut rows = Vec::new();
    for (car, counterweight, way) in [(heavy, light, "car heavier"), (light, heavy, "counterweight heavier")]
    {
        let found = between_by(car, counterweight, grips).map_err(CaseFault::of)?;
        // From either end: down by the grip of its own pass, or up by it.
        let ends = [(car, first), (counterweight, second)];
        let down = ends.map(|(tension, (f, arc))| creeping_tension_n(tension, f, arc));
        let up = ends.map(|(tension, (f, arc))| creeping_tension_n(tension, -f, arc));
        let (low, high) = (down[0].max(down[1]), up[0].min(up[1]));
        rows.push(exact(format!("{way}: lowest by friction"), "N", EULER, low, found.friction.low_n));
        rows.push(exact(format!("{way}: highest by friction"), "N", EULER, high, found.friction.high_n));
        let (least, most) = (low.max(light), high.min(heavy));
        rows.push(exact(
            format!("{way}: lowest with both passes driving"),
            "N",
            EULER,
            least,
            found.driving.low_n,
        ));
        rows.push(exact(
            format!("{way}: highest with both passes driving"),
            "N",
            EULER,
            most,
            found.driving.high_n,
        ));
        let equal = (heavy.ln() / 2.0 + light.ln() / 2.0).exp();
        rows.push(exact(format!("{way}: √(T1·T2)"), "N", EULER, equal, found.equal_ratio_n));
    }
    let single = between_by(heavy, light, [0.6, 0.0]).map_err(CaseFault::of)?;
    rows.push(exact("second pass without grip: highest".into(), "N", EULER, light, single.friction.high_n));
    rows.push(exact("second pass without grip: lowest".into(), "N", EULER, light, single.friction.low_n));
    Ok(Record::of_rows(rows)
        .fact(format!("{heavy} and {light} N; grips {:.3} and {:.3}.", grips[0], grips[1])))
}

fn creep() -> Result<Record, CaseFault> {
    let (t1, t2, friction, wrap) = (8000.0, 5500.0, 0.2, [2.9, 3.0]);
    let of = |run: Run, radii: [f64; 2], stiffness: f64| -> Result<Steady, CaseFault> {
        steady(run, [t1, t2], [friction; 2], wrap, radii, stiffness).map_err(CaseFault::of)
    };
    let mut rows = Vec::new();
    let (up, down) = (of(Run::CarUp, [300.0; 2], EA)?, of(Run::CarDown, [300.0; 2], EA)?);
    rows.push(exact("equal diameters, car up".into(), "N", HOOKE, t1, up.between_n));
    rows.push(exact("equal diameters, car down".into(), "N", HOOKE, t2, down.between_n));
    let arc = active_arc_rad(t1, t2, friction).to_degrees();
    rows.push(exact(
        "active arc of the second pass, car up".into(),
        "°",
        ARCS,
        arc,
        up.arcs[1].active_rad.to_degrees(),
    ));
    rows.push(exact(
        "active arc of the first pass, car down".into(),
        "°",
        ARCS,
        arc,
        down.arcs[0].active_rad.to_degrees(),
    ));
    // Both flows equal: R1/(1 + T1/EA) = R2/(1 + Ti/EA).
    for second in [300.02, 299.95] {
        let found = of(Run::CarUp, [300.0, second], EA)?;
        let gap = 300.0 / (1.0 + t1 / EA) - second / (1.0 + found.between_n / EA);
        let what = format!("second radius {second} mm, car up: difference of the two flows per radian");
        let reason = "rounding of a radius of 300 mm";
        rows.push(Row::new(what, "mm", HOOKE, 0.0, gap).within(Tolerance::Absolute(1e-12), reason));
    }
    let rigid = of(Run::CarUp, [300.0, 300.001], 1e15)?;
    let limit = creeping_tension_n(t2, -friction, wrap[1]);
    rows.push(exact(
        "rigid rope, second radius 1 µm larger: the second pass's limit".into(),
        "N",
        EULER,
        limit,
        rigid.between_n,
    ));
    let slips = if rigid.slipping == Some(Pass::Second) { 2.0 } else { 0.0 };
    rows.push(exact("rigid rope: the pass that slips".into(), "", EULER, 2.0, slips));
    Ok(Record::of_rows(rows).fact(format!(
        "{t1} and {t2} N, f = {friction}, wraps {} and {} rad, EA = {EA} N.",
        wrap[0], wrap[1]
    )))
}

fn rope(radii: [f64; 2], between: f64, lengths: [f64; 3]) -> Rope {
    Rope {
        stiffness_n: EA,
        lengths_mm: lengths.to_vec(),
        tensions_n: vec![8000.0, between, 5500.0],
        radii_mm: radii.to_vec(),
        grips: vec![0.6, 0.7],
    }
}

fn turned(ropes: Vec<Rope>, run: Run, turns: f64, steps: usize) -> Result<Machine, CaseFault> {
    let mut machine = Machine::new(ropes).map_err(CaseFault::of)?;
    for _ in 0..steps {
        machine.step(run, turns * TAU / steps as f64).map_err(CaseFault::of)?;
    }
    Ok(machine)
}

fn history() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let short = [40e3, 4e3, 5e3];
    let machine = turned(vec![rope([300.0; 2], 6600.0, short)], Run::CarUp, 1.0, 400)?;
    let reference = 8000.0 - 1400.0 * (-TAU * 300.0 / 4000.0).exp();
    let reason = "the closed form drops strains of two thousandths beside 1";
    let row = Row::new("one turn up, equal diameters", "N", RELAX, reference, machine.tensions_n[0][1]);
    rows.push(row.within(Tolerance::Relative(1e-3), reason));
    let long = [400e3, 300e3, 5e3];
    let machine = turned(vec![rope([300.0, 300.1], 8000.0, long)], Run::CarUp, 1.0, 400)?;
    let rise = machine.tensions_n[0][1] - 8000.0;
    let reason = "half of 2πR/L has relaxed in the turn";
    let row =
        Row::new("0.2 mm of mismatch, 300 m between the wheels", "N", MISMATCH, EA * PI * 0.2 / 300e3, rise);
    rows.push(row.within(Tolerance::Relative(0.5 * TAU * 300.0 / 300e3 * 1.2), reason));
    let machine = turned(vec![rope([300.0, 301.0], 6600.0, short)], Run::CarUp, 6.0, 3000)?;
    let limit = creeping_tension_n(5500.0, -0.7, 1.0);
    let reason = "how far beyond its grip a pass may be before it slides";
    let row =
        Row::new("2 mm of mismatch: the second pass slips at", "N", EULER, limit, machine.tensions_n[0][1]);
    rows.push(row.within(Tolerance::Relative(1e-9), reason));
    // Two unequal ropes through slips, up and down.
    let mut other = rope([300.2, 299.9], 6900.0, short);
    other.tensions_n = vec![8300.0, 6900.0, 5700.0];
    let mut machine =
        Machine::new(vec![rope([300.0, 300.3], 6600.0, short), other]).map_err(CaseFault::of)?;
    let before = [0, 1].map(|rope| machine.rope_mm(rope));
    let found = march(&mut machine, 9.0 * TAU * 300.0, 4).map_err(CaseFault::of)?;
    for (index, before) in before.into_iter().enumerate() {
        let what = format!("unstrained length of rope {}, after {} cycles", index + 1, found.cycles);
        rows.push(exact(what, "mm", HOOKE, before, machine.rope_mm(index)));
    }
    let side = |span: usize| machine.tensions_n.iter().map(|spans| spans[span]).sum::<f64>();
    rows.push(exact("car's side, both ropes".into(), "N", PLAIN, 16300.0, side(0)));
    rows.push(exact("counterweight's side, both ropes".into(), "N", PLAIN, 11200.0, side(2)));
    let moved = found.work.creep_nmm + found.work.slip_nmm;
    let reason = "the midpoint rule's own error at 72 steps to a turn, on what creep and slip take";
    let row = Row::new(
        "energy not accounted for, over creep and slip",
        "",
        WORK,
        0.0,
        found.work.gap_nmm() / moved,
    );
    rows.push(row.within(Tolerance::Absolute(0.02), reason));
    Ok(Record::of_rows(rows)
        .fact(format!("EA = {EA} N; spans of 40, 4 and 5 m unless said; grips 0.6 and 0.7.")))
}

/// A survey with one rope in double wrap: 8000 N and 5500 N at rated load.
fn double(wraps: [f64; 2], middles: [f64; 2]) -> Result<Survey, CaseFault> {
    let (car, rated) = (8000.0 / 9.81 - 5000.0 / 9.81, 5000.0 / 9.81);
    let mut sheet = Sheet::new(car, rated, 1);
    sheet.seat_depth_mm = vec![10.0; 2];
    let table = format!(
        "[double_wrap]\nfirst_wrap = \"{} deg\"\nsecond_wrap = \"{} deg\"\nfirst_middle = \"{} deg\"\n\
         second_middle = \"{} deg\"\ngrooves = \"alternating\"\n\n[load]",
        wraps[0], wraps[1], middles[0], middles[1]
    );
    let text = sheet
        .text()
        .replace("\"single wrap\"", "\"double wrap\"")
        .replace("wrap = \"180 deg\"\n", "")
        .replace("width = \"26 mm\"", "width = \"46 mm\"")
        .replace("[load]", &table);
    survey_of(&text)
}

fn rated(survey: &Survey) -> Result<LoadCase, CaseFault> {
    load_cases(survey).into_iter().next().ok_or_else(|| CaseFault::Other("no load case".into()))
}

fn shaft() -> Result<Record, CaseFault> {
    let mut rows = Vec::new();
    let survey = double([180.0; 2], [0.0; 2])?;
    let case = rated(&survey)?;
    let between = case.mean_between_n().unwrap_or(f64::NAN);
    let pull = drive_pull_n(&case.wraps(&survey));
    let drive = pull[0].hypot(pull[1]);
    let equal = (8000.0f64 * 5500.0).sqrt();
    rows.push(exact("two half turns: drive sheave".into(), "N", PLAIN, 13500.0 + 2.0 * equal, drive));
    rows.push(exact(
        "two half turns: secondary sheave".into(),
        "N",
        PLAIN,
        2.0 * equal,
        secondary_pull_n(between, PI),
    ));
    let ratio = drive / resultant_n(8000.0, 5500.0, PI);
    rows.push(Row::new("drive sheave against a single half turn", "", PLAIN, 1.983, ratio).printed(3));
    let (wraps, middles) = ([172.0f64, 150.0], [-4.0f64, 9.0]);
    let survey = double(wraps, middles)?;
    let case = rated(&survey)?;
    let mut sum = [0.0; 2];
    for (pass, (a, b)) in [(8000.0, equal), (equal, 5500.0)].into_iter().enumerate() {
        let (half, middle) = ((0.5 * wraps[pass]).to_radians(), middles[pass].to_radians());
        // Towards the shaft's side of the middle, and towards the heavier end.
        let (along, across) = (-(a + b) * half.sin(), (b - a) * half.cos());
        sum[0] += along * middle.cos() - across * middle.sin();
        sum[1] += along * middle.sin() + across * middle.cos();
    }
    let pull = drive_pull_n(&case.wraps(&survey));
    for (axis, name) in ["along θ = 0", "across it"].into_iter().enumerate() {
        rows.push(exact(
            format!("wraps of 172° and 150° about −4° and 9°: {name}"),
            "N",
            VECTOR,
            sum[axis],
            pull[axis],
        ));
    }
    let moment: f64 = case.heavy_n.iter().zip(&case.light_n).map(|(heavy, light)| heavy - light).sum();
    rows.push(exact("difference of tensions over both passes".into(), "N", PLAIN, 2500.0, moment));
    Ok(Record::of_rows(rows))
}

fn support() -> Result<Record, CaseFault> {
    let (surface, pitch) = (250.0, 256.5);
    let mut model = tube("wheel", 100.0, surface, 40.0, iron(110e3, 0.26), 40.0);
    hold(&mut model, "bore", true, true, true);
    let tags = || vec!["outside".to_owned()];
    model.patterns = vec![
        Pattern::Bearing { tags: tags(), law: Law::Uniform },
        Pattern::Drag { tags: tags(), law: Law::Uniform, moment_radius_mm: surface },
    ];
    let run_in = 13.0 / pitch;
    // The first pass holds back: the tension between the passes is the highest of the three.
    let passes =
        [(8000.0, 8900.0, 172.0f64, -4.0f64), (8900.0, 5500.0, 150.0, 9.0)].map(|(a, b, wrap, middle)| {
            RopeWrap::new(a, b, wrap.to_radians(), Creep::WholeWrap).turned(middle.to_radians())
        });
    let terms = passes.iter().flat_map(|pass| {
        [Term { pattern: 0, around: pass.bearing(run_in) }, Term { pattern: 1, around: pass.drag(run_in) }]
    });
    model.cases = vec![ElasticCase { name: "two passes".to_owned(), terms: terms.collect() }];
    // Forces and moments live in the first two harmonics, so the series need not settle.
    let series = Options { block: 4, least: 4, tolerance: 10.0, ..Options::default() };
    let bench = Bench::with(model, 0, &series, |_, mesh| Region::everything(mesh))?;
    let reaction = &bench.finest().balance[0].reaction;
    let pull = drive_pull_n(&passes);
    let kept = "the bound on the balance that every analysis must keep";
    let bound = Tolerance::Relative(1e-6);
    let force = Row::new("support force", "N", VECTOR, pull[0].hypot(pull[1]), reaction.force());
    let moment = Row::new("support moment", "N·mm", PLAIN, 2500.0 * surface, reaction.moment_nmm[2]);
    let rows = vec![force.within(bound, kept), moment.within(bound, kept)];
    // The tube and its loads are those of other cases: this one speaks for the two passes alone.
    Ok(Record::of_rows(rows).fact("8000, 8900 and 5500 N; wraps of 172° about −4° and 150° about 9°."))
}
