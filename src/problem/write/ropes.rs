//! Ropes written back: pressure and drag terms of one rope become one table.

use super::super::read::seat::{bottom_radius, radii};
use super::{WriteFault, line, number, point, text, texts};
use crate::elastic::{Around, Case, Law, Model, Pattern, Stretch, Term};

/// Parts of a turn and of a tension that count as equal: they come from closed forms.
const SAME: f64 = 1e-9;

/// The tension of a rope as its table states it.
struct Tension {
    heavy_n: f64,
    light_n: f64,
    from: f64,
    to: f64,
    /// Words for the creep, and the friction where it has one.
    creep: (&'static str, Option<f64>),
}

fn end(stretch: &Stretch) -> f64 {
    stretch.value * (-stretch.decay * (stretch.to - stretch.from)).exp()
}

impl Tension {
    fn of(stretches: &[Stretch]) -> Option<Self> {
        let (first, last) = (stretches.first()?, stretches.last()?);
        let creep = match stretches {
            [_] => ("whole wrap", None),
            [rest, active] if rest.decay == 0.0 => ("active arc at light side", Some(active.decay)),
            [active, rest] if rest.decay == 0.0 => ("active arc at heavy side", Some(active.decay)),
            _ => return None,
        };
        let joined = stretches.windows(2).all(|pair| {
            (pair[0].to - pair[1].from).abs() < SAME
                && (end(&pair[0]) - pair[1].value).abs() < SAME * pair[1].value.abs()
        });
        let (heavy_n, light_n) = (first.value, end(last));
        let ordered = creep.1.is_none() || heavy_n >= light_n;
        (joined && ordered && heavy_n > 0.0 && light_n > 0.0).then_some(Self {
            heavy_n,
            light_n,
            from: first.from,
            to: last.to,
            creep,
        })
    }
}

/// The drag term of a rope: the one on its edges and law whose course is the tension's own slope.
fn drag_of<'m>(model: &'m Model, case: &'m Case, bearing: &Term) -> Option<(usize, f64)> {
    let Pattern::Bearing { tags, law } = &model.patterns[bearing.pattern] else { return None };
    case.terms.iter().enumerate().find_map(|(index, term)| match &model.patterns[term.pattern] {
        Pattern::Drag { tags: t, law: l, moment_radius_mm }
            if t == tags && l == law && is_slope(&term.around, &bearing.around) =>
        {
            Some((index, *moment_radius_mm))
        }
        _ => None,
    })
}

fn is_slope(drag: &Around, tension: &Around) -> bool {
    let (
        Around::Stretches { stretches: d, run_in: drag_run },
        Around::Stretches { stretches: t, run_in: run },
    ) = (drag, tension)
    else {
        return false;
    };
    let same = |(d, t): (&Stretch, &Stretch)| {
        (d.from, d.to, d.decay) == (t.from, t.to, t.decay)
            && (d.value + t.decay * t.value).abs() <= SAME * (t.decay * t.value).abs()
    };
    drag_run == run && d.len() == t.len() && d.iter().zip(t).all(same)
}

/// Checks that a drag term is written with some rope of the case.
pub(super) fn belongs(model: &Model, case: &Case, drag: &Term, tags: &[String]) -> Result<(), WriteFault> {
    let own = |bearing: &Term| {
        drag_of(model, case, bearing).is_some_and(|(index, _)| std::ptr::eq(&case.terms[index], drag))
    };
    if case.terms.iter().any(own) { Ok(()) } else { Err(no_rope(case, tags)) }
}

fn no_rope(case: &Case, tags: &[String]) -> WriteFault {
    WriteFault::Rope { case: case.name.clone(), tags: tags.join(", ") }
}

pub(super) fn rope(out: &mut String, model: &Model, case: &Case, term: &Term) -> Result<(), WriteFault> {
    let Pattern::Bearing { tags, law } = &model.patterns[term.pattern] else { return Ok(()) };
    let fault = || no_rope(case, tags);
    let Around::Stretches { stretches, run_in } = &term.around else {
        return Err(super::no_form(case, &term.around));
    };
    let tension = Tension::of(stretches).ok_or_else(fault)?;
    let drag = drag_of(model, case, term);
    // The difference of the tensions must turn the wheel, or the file would say more than the model.
    let even = stretches.iter().all(|s| s.decay == 0.0);
    if drag.is_none() && !even {
        return Err(fault());
    }
    let lowest = radii(&model.outline, tags).map(|(low, _)| low);
    let seat = match law {
        Law::Cosine { centre } => bottom_radius(&model.outline, tags, *centre),
        Law::Uniform => lowest,
    };
    let seat = seat.ok_or_else(fault)?;
    out.push_str("\n[[rope]]\n");
    line(out, "case", text(&case.name));
    line(out, "tags", texts(tags));
    line(out, "heavy_n", number(tension.heavy_n));
    // Equal tensions stay equal to the last digit, or a drag would appear.
    line(out, "light_n", number(if even { tension.heavy_n } else { tension.light_n }));
    line(out, "wrap_deg", number((tension.to - tension.from).to_degrees()));
    line(out, "middle_deg", number((0.5 * (tension.from + tension.to)).to_degrees()));
    line(out, "seat_radius_mm", number(seat));
    line(out, "moment_radius_mm", number(drag.map_or(seat, |(_, radius)| radius)));
    match law {
        Law::Cosine { centre } => {
            line(out, "law", text("cosine"));
            line(out, "centre", point(*centre));
        }
        Law::Uniform => line(out, "law", text("uniform")),
    }
    line(out, "creep", text(tension.creep.0));
    if let Some(friction) = tension.creep.1 {
        line(out, "friction", number(friction));
    }
    line(out, "run_in_mm", number(run_in * seat));
    Ok(())
}
