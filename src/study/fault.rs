//! Why a check gives no answer, with the survey's field and what to do where a field explains it.

use super::FlawFault;
use crate::diagnostics::Diagnostics;
use crate::document::Places;
use crate::elastic::ElasticFault;
use crate::geometry::Point;
use crate::hoist::double_wrap::WrapFault;
use crate::material::MaterialError;
use crate::mesh::MeshFault;
use crate::section::{SectionFault, State, place_words};
use crate::survey::Survey;
use crate::units::{Kind, PrintUnits};
use std::fmt;

/// A section fault at one place around the rim.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedFault {
    pub fault: SectionFault,
    /// Number of the station (from 1), where the fault is a station's.
    pub station: Option<usize>,
    /// The place in words.
    pub place: String,
}

#[derive(Debug, Clone, PartialEq)]
pub enum CheckFault {
    /// The measurements make no section; every fault once, at the first place that shows it.
    Section {
        faults: Vec<PlacedFault>,
        state: State,
    },
    Elastic(ElasticFault),
    Material(MaterialError),
    NoTensions,
    /// The tensions of a double wrap have no answer.
    Wrap(WrapFault),
    /// A fault of the secondary sheave's own survey.
    Secondary(Box<CheckFault>),
    /// A command that a double wrap is not covered by yet.
    DoubleWrap,
    /// A chosen place at which nothing can be said of a crack.
    Flaw(FlawFault),
}

impl From<FlawFault> for CheckFault {
    fn from(fault: FlawFault) -> Self {
        Self::Flaw(fault)
    }
}

impl From<WrapFault> for CheckFault {
    fn from(fault: WrapFault) -> Self {
        Self::Wrap(fault)
    }
}

impl From<ElasticFault> for CheckFault {
    fn from(fault: ElasticFault) -> Self {
        Self::Elastic(fault)
    }
}

impl From<MaterialError> for CheckFault {
    fn from(fault: MaterialError) -> Self {
        Self::Material(fault)
    }
}

const OWN_FAULT: &str = "the survey gives no reason for it: this is a limit of the program; simpler grooves or rounder fillets may get past it";

impl CheckFault {
    /// Refuses a double wrap where only a single one is covered.
    ///
    /// # Errors
    /// For a survey with a double wrap.
    pub(super) fn unless_single(survey: &Survey) -> Result<(), Self> {
        if survey.double_wrap.is_some() { Err(Self::DoubleWrap) } else { Ok(()) }
    }

    /// Code, message, field of the survey and advice of every fault.
    fn entries(
        &self,
        show: &dyn Fn(f64) -> String,
    ) -> Vec<(&'static str, String, Option<String>, &'static str)> {
        match self {
            Self::Section { faults, state } => faults
                .iter()
                .map(|placed| {
                    let cut = *state == State::Cut && !matches!(placed.fault, SectionFault::AsFound(_));
                    let when = if cut { "after the cut" } else { "as found" };
                    let place = match placed.fault.belongs_to_station() {
                        true => format!("{}, {when}", placed.place),
                        false => when.to_owned(),
                    };
                    let message = sentence(&format!("{} ({place})", placed.fault.text(show)));
                    let field = placed.fault.field(*state, placed.station);
                    ("check/section", message, Some(field), placed.fault.advice())
                })
                .collect(),
            Self::Elastic(ElasticFault::Mesh(fault)) => {
                let (at, advice) = match fault {
                    MeshFault::Triangulation { at }
                    | MeshFault::Sliver { at, .. }
                    | MeshFault::Folded { at } => (
                        Some(*at),
                        "check walls, fillets and groove sizes there; a surface that all but touches another one cannot be judged",
                    ),
                    MeshFault::TooLarge { .. } => {
                        (None, "a radius or a wall is very small for a wheel of this size: check its unit")
                    }
                    MeshFault::Outline(_) => (None, OWN_FAULT),
                };
                let message = match at {
                    Some(at) => sentence(&format!(
                        "two surfaces come too close to each other {}",
                        place_words(at, show)
                    )),
                    None => sentence(&fault.to_string()),
                };
                vec![("check/mesh", message, None, advice)]
            }
            Self::Elastic(fault) => vec![("check/solution", sentence(&fault.to_string()), None, OWN_FAULT)],
            Self::Material(fault) => vec![(
                "check/material",
                sentence(&fault.to_string()),
                Some("material".into()),
                "correct what is stated on the metal",
            )],
            Self::Flaw(fault) => vec![flaw_entry(*fault, show)],
            Self::NoTensions => vec![(
                "check/no-tensions",
                "No rope tensions can be formed: neither masses nor tensions are stated.".into(),
                Some("load.given".into()),
                "state the masses, or the tensions; a secondary sheave whose tensions come from the drive sheave is judged with it",
            )],
            Self::Wrap(fault) => vec![(
                "check/double-wrap",
                sentence(&fault.to_string()),
                Some("double_wrap".into()),
                "check tensions, friction, wraps, stiffness and free lengths of the ropes",
            )],
            Self::Secondary(fault) => fault.entries(show),
            Self::DoubleWrap => vec![(
                "survey/not-covered",
                "A double wrap is given, and this command does not cover it yet.".into(),
                Some("roping.arrangement".into()),
                "`rimproof check` judges both of its sheaves, `rimproof wraps` compares arrangements",
            )],
        }
    }

    /// Adds every fault at the place of the survey's field that most likely explains it, in its units.
    pub fn diagnose(&self, print: &PrintUnits, places: Option<&Places>, diagnostics: &mut Diagnostics) {
        let show = |mm: f64| print.show(Kind::Length, mm);
        for (code, message, field, help) in self.entries(&show) {
            let place = field.as_ref().zip(places).and_then(|(field, places)| places.of(field));
            diagnostics.error(code, message, help, place);
        }
    }
}

/// Every fault as a sentence with the survey's field in front and the advice behind.
impl fmt::Display for CheckFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lines: Vec<String> = self
            .entries(&|mm| format!("{mm:.2} mm"))
            .into_iter()
            .map(|(_, message, field, help)| match field {
                Some(field) => format!("{field}: {message} {}.", capital(help)),
                None => format!("{message} {}.", capital(help)),
            })
            .collect();
        f.write_str(&lines.join("\n"))
    }
}

impl std::error::Error for CheckFault {}

fn flaw_entry(
    fault: FlawFault,
    show: &dyn Fn(f64) -> String,
) -> (&'static str, String, Option<String>, &'static str) {
    let place = |p: Point| format!("r = {}, z = {}", show(p.r), show(p.z));
    let (message, advice) = match fault {
        FlawFault::OffSurface { asked, nearest } => (
            format!(
                "The place {} for a crack is {} off the surface of the judged section; the nearest place on it is {}.",
                place(asked),
                show(nearest.distance(asked)),
                place(nearest)
            ),
            "a place within 2 mm of the surface is allowed: r from the shaft's axis, z along the shaft from the middle of the rim, negative towards groove 1",
        ),
        FlawFault::NotJudged { asked, fence_mm } => (
            format!(
                "The place {} for a crack lies below r = {}, where no stress is judged.",
                place(asked),
                show(fence_mm)
            ),
            "choose a place on rim or web",
        ),
        FlawFault::NoWall { asked } => (
            format!("From the place {} for a crack no way leads through a wall.", place(asked)),
            "choose a place on a wall's surface, not on an edge of the section",
        ),
    };
    ("check/flaw-at", message, None, advice)
}

fn sentence(text: &str) -> String {
    format!("{}.", capital(text).trim_end_matches('.'))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
