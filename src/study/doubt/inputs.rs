//! The doubtful values of a survey: how each is spread, and on whose word.

use super::DoubtFault;
use super::wheel::Wheel;
use crate::chance::Spread;
use crate::material::hardness::strength_band;
use crate::section::{Kind, State};
use crate::study::CheckResult;
use crate::survey::thin_spot::Method;
use crate::survey::{Given, Role, StrengthDoubt, Survey, Underside};
use crate::units::Kind as Unit;
use serde::Serialize;

/// What may be off. The order is that of a sample's row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// Wall at the governing place, all grooves alike (mm).
    Wall,
    /// Readings of the seat depths, from which a cut takes the wall that is left (mm).
    SeatDepth,
    /// Depth of the cut (mm).
    CutDepth,
    /// Strength: the logarithm of its ratio to the one in use, or the relative hardness less one.
    Strength,
    /// Mass of the car, or the tension of the heavy side (part of itself).
    Heavy,
    /// Mass of the counterweight, or the tension of the light side (part of itself).
    Light,
    /// Spread of the rope tensions (part of the mean tension).
    TensionSpread,
    /// Which rope is the hottest.
    HottestRope,
    /// The error bar of the stress (part of it).
    Bar,
    /// What the response surface misses (logarithm of the factor).
    Surface,
}

impl Quantity {
    /// Length of a sample's row.
    pub const COUNT: usize = 10;

    /// Whether the doubt is the program's own and no measurement of the wheel takes it away.
    #[must_use]
    pub fn is_own(self) -> bool {
        matches!(self, Self::Bar | Self::Surface)
    }
}

/// One doubtful value.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Doubtful {
    pub quantity: Quantity,
    pub name: &'static str,
    #[serde(skip)]
    pub spread: Spread,
    /// How it is spread, in words and in the survey's units.
    pub taken_as: String,
    /// On whose word.
    pub standing: String,
}

const OWN_WORD: &str = "no source, stated by the program";
const STATED: &str = "stated in the survey";
/// Plus or minus, as a part; two standard deviations each.
const STRENGTH: f64 = 0.20;
const STRENGTH_MEASURED: f64 = 0.10;
const LOADS: f64 = 0.05;
/// Of the spread itself.
const SPREAD_SHARE: f64 = 0.5;
const SEAT_DEPTH_MM: f64 = 0.2;
/// Half of what equal depths after a cut are held to in the trade would be stricter than shops work.
const CUT_DEPTH_MM: f64 = 0.1;
const READING_MM: f64 = 0.5;

/// Every quantity, in order; those that are not in doubt here are known.
pub(super) fn doubtful(survey: &Survey, checked: &CheckResult) -> Result<Vec<Doubtful>, DoubtFault> {
    let of = |quantity, name, spread, taken_as: String, standing: &str| Doubtful {
        quantity,
        name,
        spread,
        taken_as,
        standing: standing.to_owned(),
    };
    let stated = |value: Option<f64>, stand_in: f64, word: &str| match value {
        Some(value) => (value, STATED.to_owned()),
        None => (stand_in, word.to_owned()),
    };
    let length = |mm: f64| survey.print.show(Unit::Length, mm);
    let percent = |part: f64| format!("± {:.1} %", 100.0 * part);
    let known = || (Spread::Known, String::new(), String::new());
    let doubt = &survey.doubt;
    let is_cut = checked.state == State::Cut;
    let solid = matches!(survey.walls.underside, Underside::Solid);

    let wall = if solid { known() } else { wall(survey, checked) };
    let lengths = |on: bool, value: Option<f64>, stand_in: f64, word: &str| {
        if !on {
            return known();
        }
        let (mm, standing) = stated(value, stand_in, word);
        (Spread::plus_or_minus(mm), format!("± {}", length(mm)), standing)
    };
    let seat = lengths(is_cut && !solid, doubt.seat_depth_mm, SEAT_DEPTH_MM, OWN_WORD);
    let cut = lengths(is_cut, doubt.cut_depth_mm, CUT_DEPTH_MM, "common practice of equal depths, no source");
    let strength = strength(survey, checked)?;

    let (names, value): ([&'static str; 2], _) = match survey.load.given {
        Given::Masses => (["mass of the car", "mass of the counterweight"], doubt.masses),
        _ => (["tensions of the heavy side", "tensions of the light side"], doubt.tensions),
    };
    let (part, word) = stated(value, LOADS, OWN_WORD);
    let (ropes, measured) = (survey.roping.ropes, matches!(survey.load.given, Given::PerRope { .. }));
    let (spread, taken, spread_word) = if ropes < 2 {
        known()
    } else if measured {
        (Spread::plus_or_minus(part), format!("one rope misread by {}", percent(part)), word.clone())
    } else {
        let spread = survey.load.tension_spread;
        let (part, word) = stated(doubt.tension_spread, SPREAD_SHARE * spread, OWN_WORD);
        (
            Spread::plus_or_minus(part),
            format!("{:.1} % of the mean tension {}", 100.0 * spread, percent(part)),
            word,
        )
    };
    let any = ropes > 1 && (survey.load.tension_spread > 0.0 || spread.varies() || measured);
    let (hottest, hottest_words, hottest_word) = match doubt.hottest_groove {
        Some(groove) => (Spread::Known, format!("groove {groove}"), STATED),
        None if any => (Spread::OneOf { count: ropes }, "any roped groove alike".to_owned(), OWN_WORD),
        None => (Spread::Known, String::new(), ""),
    };
    let hottest_name = if measured { "which rope was misread" } else { "which rope is the hottest" };
    let bar = checked.governing.bound_mpa / checked.governing.peak.principal_mpa[0];
    // On a pulley a stated tension is that of both sides.
    let single = survey.roping.role != Role::Drive && !matches!(survey.load.given, Given::Masses);
    let sides = [Quantity::Heavy, Quantity::Light].into_iter().zip(names).map(|(quantity, name)| {
        let known = single && quantity == Quantity::Light;
        let spread = if known { Spread::Known } else { Spread::plus_or_minus(part) };
        of(quantity, name, spread, percent(part), &word)
    });
    let mut list = vec![
        of(Quantity::Wall, "thinnest wall", wall.0, wall.1, &wall.2),
        of(Quantity::SeatDepth, "readings of the seat depths", seat.0, seat.1, &seat.2),
        of(Quantity::CutDepth, "depth of the cut", cut.0, cut.1, &cut.2),
        of(Quantity::Strength, "tensile strength", strength.0, strength.1, &strength.2),
    ];
    list.extend(sides);
    list.extend([
        of(Quantity::TensionSpread, "spread of the rope tensions", spread, taken, &spread_word),
        of(Quantity::HottestRope, hottest_name, hottest, hottest_words, hottest_word),
        of(
            Quantity::Bar,
            "the stress's own error bar",
            Spread::Even { half: bar },
            format!("{}, any error within alike", percent(bar)),
            "the check's bar; JCGM 100:2008, 4.3.7",
        ),
        // Known only after the full analyses.
        of(
            Quantity::Surface,
            "what the response surface misses",
            Spread::Known,
            "as found by the full analyses".into(),
            "found in this run",
        ),
    ]);
    Ok(list)
}

/// Within plus or minus this much 95 of 100 values lie.
pub(super) fn half_width(spread: Spread) -> f64 {
    spread.quantile(0.975)
}

/// The wall at the governing place. The fit's own bound is a quantile of its prediction, so the two agree; a station
/// that governs by a hair beside the estimate is spread no less than it.
fn wall(survey: &Survey, checked: &CheckResult) -> (Spread, String, String) {
    let length = |mm: f64| survey.print.show(Unit::Length, mm);
    if let Some(mm) = survey.doubt.wall_mm {
        return (Spread::plus_or_minus(mm), format!("± {}", length(mm)), STATED.to_owned());
    }
    // The widest of the grooves: all walls are taken thin, or thick, at once.
    let fits = checked.thin_spots.iter().flatten().filter_map(|spot| Some((spot, spot.deviation_mm()?)));
    let widest = fits.max_by(|a, b| a.1.total_cmp(&b.1));
    let estimated = checked.places.iter().any(|place| place.kind == Kind::Thinnest);
    if let (Some((spot, scale)), true) = (widest, estimated) {
        let standing = "the survey's readings and their fit".to_owned();
        let (spread, by) = match spot.method {
            Method::Fit => (
                Spread::Student { scale, dof: spot.dof },
                format!("Student's t, spare readings: {}", spot.dof),
            ),
            _ => (Spread::Normal { sd: scale }, "fit through three readings".to_owned()),
        };
        let words = format!("fit ± {} ({by}), all grooves at once", length(half_width(spread)));
        return (spread, words, standing);
    }
    let (mm, standing) = match survey.walls.reading_error_mm {
        Some(mm) => (mm, "reading error of the walls"),
        None => (READING_MM, OWN_WORD),
    };
    (Spread::plus_or_minus(mm), format!("as read ± {}, all grooves at once", length(mm)), standing.to_owned())
}

/// The strength, about the one in use or over the band of the lowest hardness.
fn strength(survey: &Survey, checked: &CheckResult) -> Result<(Spread, String, String), DoubtFault> {
    let stress = |mpa: f64| survey.print.show(Unit::Stress, mpa);
    let hardness = survey.material.hardness_hb.iter().copied().reduce(f64::min);
    if let (StrengthDoubt::HardnessBand, Some(hb)) = (survey.doubt.strength_from, hardness) {
        let band = strength_band(hb);
        if band.lower_mpa <= 0.0 {
            return Err(DoubtFault::HardnessTooLow { hb });
        }
        let words = format!(
            "band of {hb:.0} HB: {} ({} to {})",
            stress(band.middle_mpa),
            stress(band.lower_mpa),
            stress(band.upper_mpa)
        );
        let standing = "relative hardness 1 ± 0.2, EN 1561 annex on hardness (constants from memory)";
        return Ok((Wheel::RELATIVE_HARDNESS, words, standing.to_owned()));
    }
    let measured = survey.material.tensile_mpa.is_some();
    let (part, standing) = match survey.doubt.strength {
        Some(part) => (part, STATED),
        None if measured => (STRENGTH_MEASURED, OWN_WORD),
        None => (STRENGTH, OWN_WORD),
    };
    let words = format!("{} ± {:.1} %", stress(checked.metal.tensile_mpa), 100.0 * part);
    Ok((Spread::plus_or_minus(part), words, standing.to_owned()))
}
