//! The tensions between the passes under which both wheels are judged, each as a survey of its own.

use super::tensions::Tensions;
use crate::survey::{Creep, Given, Survey};
use serde::Serialize;

/// How the tension between the passes comes about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// As high as friction holds it.
    HighestByFriction,
    /// As low as friction holds it.
    LowestByFriction,
    /// √(T1·T2).
    EqualRatio,
    /// Settled by creep in a long run of the car upwards.
    CreepCarUp,
    /// The same downwards.
    CreepCarDown,
    /// As measured.
    Measured,
    /// The tightest moment of the history over the travel, rope by rope.
    AfterTravel,
}

impl Rule {
    pub fn name(self) -> &'static str {
        match self {
            Self::HighestByFriction => "highest that friction holds",
            Self::LowestByFriction => "lowest that friction holds",
            Self::EqualRatio => "equal ratio, √(T1·T2)",
            Self::CreepCarUp => "elastic creep, car going up",
            Self::CreepCarDown => "elastic creep, car going down",
            Self::Measured => "as measured",
            Self::AfterTravel => "tightest moment over the travel",
        }
    }

    /// Settled creep rests where the rope comes on and creeps where it leaves: at the counterweight's end of both
    /// passes as the car goes up, which is the light one, and at the car's end as it goes down.
    fn pass_creep(self, tensions: &Tensions) -> Option<[Creep; 2]> {
        let friction = tensions.ropes.first()?.friction;
        match self {
            Self::CreepCarUp => Some(friction.map(|friction| Creep::ActiveArcLight { friction })),
            Self::CreepCarDown => Some(friction.map(|friction| Creep::ActiveArcHeavy { friction })),
            _ => None,
        }
    }

    /// Whether nothing says that these tensions are ever reached: the bounds of friction, and states at the end of
    /// a grip whose friction was not measured.
    fn is_unproven(self, tensions: &Tensions) -> bool {
        let creep = |run: usize| {
            tensions.ropes.iter().filter_map(|rope| rope.creep).any(|c| c[run].slipping.is_some())
        };
        let at_the_grip = match self {
            Self::HighestByFriction | Self::LowestByFriction => return true,
            Self::EqualRatio | Self::Measured => false,
            Self::CreepCarUp => creep(0),
            Self::CreepCarDown => creep(1),
            Self::AfterTravel => tensions.history.as_ref().is_some_and(|h| h.first_slip.is_some()),
        };
        at_the_grip && !tensions.friction_stated
    }
}

/// Tensions of every rope under one rule: car's side, between the passes, counterweight's side.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ruled {
    pub rule: Rule,
    /// False where nothing says that these tensions are ever reached; a refusal under them is a doubt.
    pub reached: bool,
    /// How each pass creeps, where the rule says it.
    #[serde(skip)]
    pub pass_creep: Option<[Creep; 2]>,
    pub ropes_n: Vec<[f64; 3]>,
}

/// All rules that the survey allows, the highest bound first.
pub(in crate::study) fn all(tensions: &Tensions) -> Vec<Ruled> {
    let ropes = &tensions.ropes;
    let with = |rule: Rule, between: &dyn Fn(usize) -> Option<f64>| {
        let list = ropes.iter().enumerate();
        let list = list.map(|(i, rope)| Some([rope.outer_n[0], between(i)?, rope.outer_n[1]]));
        let reached = !rule.is_unproven(tensions);
        list.collect::<Option<Vec<_>>>().map(|ropes_n| Ruled {
            rule,
            reached,
            pass_creep: rule.pass_creep(tensions),
            ropes_n,
        })
    };
    let tightest = tensions.history.as_ref().map(|history| Ruled {
        rule: Rule::AfterTravel,
        reached: !Rule::AfterTravel.is_unproven(tensions),
        pass_creep: None,
        ropes_n: history.tightest.tensions_n.iter().map(|spans| [spans[0], spans[1], spans[2]]).collect(),
    });
    [
        with(Rule::HighestByFriction, &|i| Some(ropes[i].bounds.friction.high_n)),
        with(Rule::LowestByFriction, &|i| Some(ropes[i].bounds.friction.low_n)),
        with(Rule::EqualRatio, &|i| Some(ropes[i].bounds.equal_ratio_n)),
        with(Rule::CreepCarUp, &|i| ropes[i].creep.map(|creep| creep[0].between_n)),
        with(Rule::CreepCarDown, &|i| ropes[i].creep.map(|creep| creep[1].between_n)),
        with(Rule::Measured, &|i| ropes[i].measured_n),
        tightest,
    ]
    .into_iter()
    .flatten()
    .collect()
}

impl Ruled {
    /// The drive sheave's survey with these tensions between its passes.
    ///
    /// Unequal tensions over the travel are their own spread; all others keep the survey's.
    pub fn drive(&self, survey: &Survey) -> Survey {
        let mut survey = survey.clone();
        let over = |[car, between, counterweight]: &[f64; 3]| between / (car * counterweight).sqrt();
        if let Some(wrap) = &mut survey.double_wrap {
            wrap.between_over_equal_ratio = self.ropes_n.iter().map(over).collect();
            // What the survey itself says of the creep stands.
            wrap.pass_creep = self.pass_creep.filter(|_| survey.roping.creep == Creep::WholeWrap);
        }
        if self.rule == Rule::AfterTravel {
            survey.load.given = Given::PerRope {
                heavy_n: self.ropes_n.iter().map(|rope| rope[0]).collect(),
                light_n: Some(self.ropes_n.iter().map(|rope| rope[2]).collect()),
                computed: true,
            };
        }
        survey
    }

    /// The secondary sheave's survey under the tension between the passes, loaded as the drive sheave is.
    pub fn secondary(&self, drive: &Survey, secondary: &Survey) -> Survey {
        let mut survey = secondary.clone();
        let between: Vec<f64> = self.ropes_n.iter().map(|rope| rope[1]).collect();
        let even = between.iter().all(|t| (t - between[0]).abs() <= 1e-9 * between[0]);
        let measured = matches!(drive.load.given, Given::PerRope { .. });
        survey.load = drive.load.clone();
        survey.load.masses = None;
        survey.load.given = if even && !measured {
            Given::Tensions { heavy_n: between[0], light_n: between[0] }
        } else {
            Given::PerRope { heavy_n: between, light_n: None, computed: true }
        };
        survey
    }
}
