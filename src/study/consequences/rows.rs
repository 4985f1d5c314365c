//! The rows of the table: what is found now and after the cut, the limit, and whether it holds.

use super::{SpeedChange, StateFacts};
use crate::hoist::pressure::lapsed_limit_mpa;
use crate::hoist::rules::{LEAST_SPEED_RATIO, SEAT_HARDNESS_HB, SUSPENSION_RATIO, least_rope_safety};
use crate::survey::Survey;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Standing, Status};
use serde::Serialize;

/// One quantity before and after.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Consequence {
    /// Stable name for programs.
    pub key: &'static str,
    pub name: String,
    pub now: Option<Amount>,
    /// `None` when no cut is asked, or when it cannot be told.
    pub after: Option<Amount>,
    pub limit: Option<Amount>,
    pub sense: Sense,
    pub standing: Standing,
    pub now_status: Option<Status>,
    pub after_status: Option<Status>,
}

/// A quantity in both states.
struct Pair<'a> {
    now: &'a StateFacts,
    after: Option<&'a StateFacts>,
}

impl Pair<'_> {
    fn row(
        &self,
        key: &'static str,
        name: impl Into<String>,
        kind: Option<Quantity>,
        get: impl Fn(&StateFacts) -> Option<f64>,
    ) -> Consequence {
        let amount = |state: &StateFacts| get(state).map(|value| Amount { value, kind });
        Consequence {
            key,
            name: name.into(),
            now: amount(self.now),
            after: self.after.and_then(amount),
            limit: None,
            sense: Sense::AtLeast,
            standing: Standing::Yardstick,
            now_status: None,
            after_status: None,
        }
    }
}

impl Consequence {
    /// Holds both states against a limit; how it is judged is that of a check.
    fn against(mut self, standing: Standing, sense: Sense, limit: Option<Amount>) -> Self {
        let Some(limit) = limit else { return self };
        let status = |found: Amount| Check::compare("", "", standing, sense, steady(found), limit).status;
        self.now_status = self.now.map(status);
        self.after_status = self.after.map(status);
        self.limit = Some(limit);
        self.sense = sense;
        self.standing = standing;
        self
    }
}

/// Dimensions are sums of rounded readings: the last bits must not decide.
fn steady(amount: Amount) -> Amount {
    Amount { value: (amount.value * 1e9).round() / 1e9, ..amount }
}

pub(super) fn rows(
    survey: &Survey,
    now: &StateFacts,
    after: Option<&StateFacts>,
    speed: Option<SpeedChange>,
    rope_factor: Option<f64>,
) -> Vec<Consequence> {
    let pair = Pair { now, after };
    let length = Some(Quantity::Length);
    let mut rows = vec![pair.row("pitch_diameter", "pitch diameter, mean of the grooves", length, |s| {
        Some(s.mean_pitch_diameter_mm)
    })];
    if let Some(v) = survey.roping.car_speed_m_s {
        let mut row = pair.row("car_speed", "car speed", Some(Quantity::Speed), |_| Some(v));
        row.after = speed.map(|speed| Amount::of(Quantity::Speed, speed.after_m_s));
        let least = speed.map(|_| Amount::of(Quantity::Speed, LEAST_SPEED_RATIO.value * v));
        rows.push(row.against(Standing::Yardstick, Sense::AtLeast, least));
    }
    let ratio =
        pair.row("diameter_ratio", "least pitch over rope diameter", None, |s| Some(s.least_diameter_ratio));
    rows.push(ratio.against(Standing::Code, Sense::AtLeast, Some(Amount::plain(SUSPENSION_RATIO.value))));
    let cases =
        if now.traction.is_empty() { after.map(|after| &after.traction) } else { Some(&now.traction) };
    for case in cases.into_iter().flatten() {
        // The masses keep the ratio of tensions; the grooves change what friction can hold.
        let key = if case.at_most { "traction" } else { "traction_stalled" };
        let name = format!("e^(fα), {}", case.case);
        let row = pair.row(key, name, None, |s| {
            s.traction.iter().find(|other| other.case == case.case).map(|fact| fact.limit)
        });
        let sense = if case.at_most { Sense::AtLeast } else { Sense::AtMost };
        rows.push(row.against(Standing::Code, sense, Some(Amount::plain(case.ratio))));
    }
    let pressure = pair.row("groove_pressure", "groove pressure", Some(Quantity::Stress), |s| s.pressure_mpa);
    let rope_speed = survey.roping.car_speed_m_s.map(|v| v * f64::from(survey.roping.ratio));
    let limit = rope_speed.and_then(|v| lapsed_limit_mpa(v).ok());
    let limit = limit.map(|mpa| Amount::of(Quantity::Stress, mpa));
    rows.push(pressure.against(Standing::Yardstick, Sense::AtMost, limit));
    let life = pair.row("rope_life", "rope factor asked by the bends, S_f", None, |s| {
        s.rope_life.as_ref().map(|life| life.required_rope_factor)
    });
    if life.now.is_some() || life.after.is_some() {
        rows.push(life.against(Standing::Code, Sense::AtMost, rope_factor.map(Amount::plain)));
    }
    if let Some(factor) = rope_factor {
        let ropes =
            pair.row("rope_factor", "rope factor, breaking over static force", None, |_| Some(factor));
        let least = least_rope_safety(survey.roping.ropes).map(|limit| Amount::plain(limit.value));
        rows.push(ropes.against(Standing::Yardstick, Sense::AtLeast, least));
    }
    let hardness = pair.row("hardness", "hardness at the seats", Some(Quantity::Hardness), |s| s.hardness_hb);
    // The range has two ends; a seat that is harder than its upper one is told of in words.
    let least = Amount::of(Quantity::Hardness, SEAT_HARDNESS_HB.0.value);
    rows.push(hardness.against(Standing::Yardstick, Sense::AtLeast, Some(least)));
    rows
}
