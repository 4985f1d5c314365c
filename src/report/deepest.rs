//! The deepest cut: as a page for a terminal, and as JSON.

use super::Input;
use super::layout::Layout;
use crate::study::{
    Deepest, DepthLimit, ROOM, Reach, STRENGTH, STRENGTH_REJECTS, StrengthNeeded, Tested, Unsettled,
    WallNeeded,
};
use crate::survey::{Cut, Survey};
use crate::units::Kind as Quantity;
use crate::verdict::Standing::Practice;
use crate::verdict::Status;
use anstyle::{AnsiColor, Style};
use serde_json::json;
use std::fmt::Write as _;

/// One cleaning in words.
const CLEANING: &str = "1/16 in (1.6 mm; common practice, no source)";

const CAUTIONS: [&str; 2] = [
    "This is an engineering aid, not an approval. A depth at which every check holds is the limit of what was computed, not a depth to aim at: a machine shop needs room for its own tolerance.",
    "Everything that a check assumes, and does not know, holds here too: run the check at the depth that is chosen and read its page.",
];

/// The whole page; `colour` marks the answer, `width` is the terminal's.
pub fn deepest_page(survey: &Survey, deepest: &Deepest, input: &Input, colour: bool, width: usize) -> String {
    let page = Page { survey, deepest, input, layout: Layout::new(colour, width) };
    let mut out = String::new();
    page.layout.head(survey, input, &mut out);
    page.answer(&mut out);
    page.limits(&mut out);
    page.needed(&mut out);
    page.tested(&mut out);
    page.layout.list("Cautions", &CAUTIONS.map(str::to_owned), &mut out);
    out
}

/// The same as one JSON document; `exit_code` is the command's.
///
/// # Errors
/// When a value cannot be written, which no finite result does.
pub fn deepest_json(survey: &Survey, deepest: &Deepest, input: &Input) -> Result<String, serde_json::Error> {
    let document = json!({
        "schema": "rimproof.deepest/1",
        "program": { "name": "rimproof", "version": env!("CARGO_PKG_VERSION") },
        "conventions": { "units": "unit of every number stands in its key; keys without unit are plain numbers; depths of seats below the rim edge" },
        "input": input,
        "exit_code": deepest_exit_code(deepest),
        "result": deepest,
        "survey": survey,
    });
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}

/// 0 where a cut is open at which everything holds; 3 where only rules of practice or open checks stand in the
/// way, at every depth or between them; 1 where no cut is open.
pub fn deepest_exit_code(deepest: &Deepest) -> u8 {
    let reach = |key: &str| deepest.limits.iter().find(|limit| limit.key == key).map(|limit| limit.reach);
    // A strength that holds nowhere and rejects not everywhere is for the engineer to judge.
    let judged = reach(STRENGTH) == Some(Reach::Nowhere) && reach(STRENGTH_REJECTS) != Some(Reach::Nowhere);
    let practice = |limit: &&DepthLimit| limit.standing == Practice || (limit.key == STRENGTH && judged);
    let rejected = |u: &Unsettled| u.status == Status::Fails && u.standing != Practice;
    let limiting: Vec<&DepthLimit> =
        deepest.limits.iter().filter(|limit| deepest.limiting.contains(&limit.key)).collect();
    match deepest.deepest_mm {
        _ if deepest.at_no_depth.iter().any(rejected) => 1,
        None if limiting.iter().all(practice) => 3,
        None => 1,
        Some(_) if !deepest.at_no_depth.is_empty() => 3,
        Some(_) => 0,
    }
}

struct Page<'a> {
    survey: &'a Survey,
    deepest: &'a Deepest,
    input: &'a Input,
    layout: Layout,
}

impl Page<'_> {
    fn length(&self, mm: f64) -> String {
        self.survey.print.show(Quantity::Length, mm)
    }

    fn stress(&self, mpa: f64) -> String {
        self.survey.print.show(Quantity::Stress, mpa)
    }

    fn bounded(&self, mpa: f64, bound: f64) -> String {
        self.survey.print.show_bounded(Quantity::Stress, mpa, bound)
    }

    fn say(&self, text: &str, out: &mut String) {
        self.layout.paragraph(text, "", out);
    }

    fn answer(&self, out: &mut String) {
        let deepest = self.deepest;
        let (text, colour) = match (deepest.deepest_mm, deepest_exit_code(deepest)) {
            (Some(depth), 0) => {
                (format!("DEEPEST CUT: {} below the rim edge", self.length(depth)), AnsiColor::Cyan)
            }
            (Some(depth), code) => (
                format!(
                    "NO DEPTH SETTLES IT; the checks that depend on the depth hold to {}",
                    self.length(depth)
                ),
                if code == 1 { AnsiColor::Magenta } else { AnsiColor::Yellow },
            ),
            (None, 3) => ("NO DEPTH AT WHICH EVERY CHECK HOLDS".to_owned(), AnsiColor::Yellow),
            (None, _) => ("NO CUT IS OPEN".to_owned(), AnsiColor::Magenta),
        };
        let style = Style::new().bold().fg_color(Some(colour.into()));
        let asked =
            deepest.stated_mm.map_or("no cut asked".into(), |mm| format!("asked: {}", self.length(mm)));
        let _ = writeln!(out, "\n{}  ({asked})", self.layout.paint(&text, style));
        for unsettled in &deepest.at_no_depth {
            let remark = unsettled.remark.clone().unwrap_or_else(|| format!("{}.", unsettled.name));
            self.layout.paragraph(&format!("Holds at no depth: {remark}"), "! ", out);
        }
        for limit in deepest.limits.iter().filter(|limit| deepest.limiting.contains(&limit.key)) {
            let beyond = limit.beyond.as_deref().unwrap_or("");
            let what = match limit.reach {
                Reach::Nowhere => format!("What holds at no depth: {}.", limit.name),
                reach if reach.end_mm().is_some() => format!("What ends there: {}.", limit.name),
                _ => format!("It would have to begin deeper for: {}.", limit.name),
            };
            let what =
                if beyond.is_empty() { what } else { format!("{what} {}: {beyond}", self.said_at(limit)) };
            self.say(&what, out);
        }
        if let Some(at) = &deepest.confirmed {
            self.confirmed(at, out);
        }
        self.reserve(out);
        if let Some(depth) = deepest.deepest_mm {
            let _ = writeln!(out, "The page of that check: {}", self.command(depth));
        }
    }

    fn confirmed(&self, at: &Tested, out: &mut String) {
        let word = at.word.map_or("no answer", |word| word.text());
        let mut text = format!(
            "The whole check at that depth says {word}: highest tension {}, factor {:.2}",
            self.bounded(at.peak_mpa, at.bound_mpa),
            at.least_factor
        );
        if let Some(wall) = at.wall_mm {
            let _ = write!(text, ", thinnest wall left {}", self.length(wall));
        }
        let _ = write!(text, ", D/d {:.2}.", at.diameter_ratio);
        self.say(&text, out);
    }

    fn reserve(&self, out: &mut String) {
        let deepest = self.deepest;
        match deepest.shallowest_mm {
            Some(depth) => self.say(
                &format!(
                    "Shallowest cut that takes the wear of every groove away: {} (worst seat as found: {}).",
                    self.length(depth),
                    self.length(deepest.worst_seat_mm)
                ),
                out,
            ),
            None => self.say("At no depth does the finished shape take the wear of every groove away.", out),
        }
        let Some(reserve) = deepest.reserve else { return };
        let cleanings = match reserve.further_cleanings {
            0 => "no further cleaning".to_owned(),
            1 => "one further cleaning".to_owned(),
            count => format!("{count} further cleanings"),
        };
        let grain = 0.5 * deepest.grain_mm;
        let text = match (reserve.beyond_stated_mm, reserve.beyond_shallowest_mm) {
            (Some(mm), _) if mm.abs() < grain => "Nothing is left beyond the cut that is asked for.".into(),
            (None, Some(mm)) if mm.abs() < grain => "Nothing is left beyond the shallowest cut.".into(),
            (Some(mm), _) if mm < 0.0 => format!(
                "The cut that is asked for is {} deeper than that: nothing is left for a next one.",
                self.length(-mm)
            ),
            (Some(mm), _) => format!(
                "Left beyond the cut that is asked for: {}, room for {cleanings} of about {CLEANING}.",
                self.length(mm)
            ),
            (None, Some(mm)) => format!(
                "Left beyond the shallowest cut: {}, room for {cleanings} of about {CLEANING}.",
                self.length(mm)
            ),
            (None, None) => return,
        };
        self.say(&text, out);
    }

    /// The command line that prints the check at a depth.
    fn command(&self, depth_mm: f64) -> String {
        let print = &self.survey.print;
        let mut line = format!("rimproof check {}", self.input.file);
        for change in self.input.set.iter().filter(|change| !change.path.starts_with("cut.")) {
            let _ = write!(line, " --set \"{}={}\"", change.path, change.after.as_deref().unwrap_or(""));
        }
        if !matches!(self.survey.cut, Cut::ToDepth { .. }) {
            line.push_str(" --set \"cut.plan=to depth\"");
        }
        let (number, unit) = (print.number(Quantity::Length, depth_mm), print.name(Quantity::Length));
        let _ = write!(line, " --set \"cut.depth={number} {unit}\"");
        line
    }

    fn limits(&self, out: &mut String) {
        self.layout.title("How deep each check goes", out);
        let mut table = self.layout.table(&["check", "holds from", "holds to", "decides"]);
        for limit in &self.deepest.limits {
            let [from, to] = self.ends(limit);
            let decides = if limit.decides { "yes" } else { "no" };
            table.add_row(vec![limit.name.clone(), from, to, decides.into()]);
        }
        let _ = writeln!(out, "{table}");
        let lines: Vec<String> = self
            .deepest
            .limits
            .iter()
            .filter(|limit| limit.reach != Reach::Nowhere)
            .filter_map(|limit| Some((limit, limit.beyond.as_deref()?)))
            .map(|(limit, beyond)| format!("{}. {}: {beyond}", limit.name, self.said_at(limit)))
            .collect();
        self.layout.list("What each check says beyond its limit", &lines, out);
    }

    /// The depth at which a check says what it says beyond its limit.
    fn said_at(&self, limit: &DepthLimit) -> String {
        limit.beyond_mm.map_or("It says".into(), |mm| format!("Cut to {}", self.length(mm)))
    }

    fn ends(&self, limit: &DepthLimit) -> [String; 2] {
        // Limits of strength lie on whole steps already; the others are rounded to the careful side.
        let grain = self.deepest.grain_mm;
        let down = |mm: f64| self.length((mm / grain + 1e-4).floor() * grain);
        let up = |mm: f64| self.length((mm / grain - 1e-4).ceil() * grain);
        match limit.reach {
            Reach::Nowhere => ["nowhere".into(), "nowhere".into()],
            Reach::Everywhere { looked_to_mm } => {
                let to = match limit.key {
                    ROOM | STRENGTH => format!("no limit to {}", down(looked_to_mm)),
                    _ => "no limit".into(),
                };
                ["any depth".into(), to]
            }
            Reach::Between { from_mm, to_mm, .. } => {
                [from_mm.map_or("any depth".into(), up), to_mm.map_or("no limit".into(), down)]
            }
        }
    }

    fn needed(&self, out: &mut String) {
        if self.deepest.wall.is_none() && self.deepest.strength.is_none() {
            return;
        }
        let at = match self.deepest.strength.as_ref().and_then(|strength| strength.depth_mm) {
            Some(depth) => format!("a cut to {}", self.length(depth)),
            None => "the grooves as found".to_owned(),
        };
        self.layout.title(&format!("Wall and strength needed for {at}"), out);
        if let Some(wall) = &self.deepest.wall {
            self.wall(wall, out);
        }
        if let Some(strength) = &self.deepest.strength {
            self.strength(strength, out);
        }
    }

    fn wall(&self, wall: &WallNeeded, out: &mut String) {
        let left = wall.left_mm.map_or("not known".into(), |mm| self.length(mm));
        let text = match (wall.shift_mm, wall.needed_mm, &wall.at_limit) {
            (Some(shift), Some(needed), Some(at)) => {
                let way = if shift <= 0.0 { "thinner" } else { "thicker" };
                let read = match (wall.reading_mm, wall.reading_needed_mm) {
                    (Some(reading), Some(needed)) => format!(
                        " The thinnest reading, {}, would be {}.",
                        self.length(reading),
                        self.length(needed)
                    ),
                    _ => String::new(),
                };
                format!(
                    "Wall that this load and strength need: with every wall {} {way}, the thinnest left being {} instead of {left}, strength just holds (highest tension {}, factor {:.2}).{read}",
                    self.length(shift.abs()),
                    self.length(needed),
                    self.bounded(at.peak_mpa, at.bound_mpa),
                    at.least_factor
                )
            }
            _ if wall.furthest_shift_mm > 0.0 => format!(
                "No wall settles it: even with every wall {} thicker strength does not hold; what decides does not hang on the wall.",
                self.length(wall.furthest_shift_mm)
            ),
            _ => format!(
                "Strength still holds with every wall {} thinner; the thinnest left is {left}.",
                self.length(-wall.furthest_shift_mm)
            ),
        };
        self.say(&text, out);
        self.say("The wall rule is not part of that: it asks for the rope diameter by itself.", out);
    }

    fn strength(&self, strength: &StrengthNeeded, out: &mut String) {
        let class = match (strength.is_iron, strength.class) {
            (true, Some(class)) => format!(", gray iron of class {class} or better (ASTM A48)"),
            (true, None) => ", more than any class of gray iron (ASTM A48) has".into(),
            (false, _) => String::new(),
        };
        let mut text = format!(
            "Strength that this load and wall need: {} for a factor of {} on the highest tension {}{class}; the answer rests on {}.",
            self.stress(strength.needed_mpa),
            strength.safety_factor,
            self.bounded(strength.peak_mpa, strength.bound_mpa),
            self.stress(strength.assumed_mpa)
        );
        if let Some(mpa) = strength.through_wall_mpa {
            let _ = write!(text, " Through the wall alone it would be {}.", self.stress(mpa));
        }
        self.say(&text, out);
    }

    fn tested(&self, out: &mut String) {
        let print = &self.survey.print;
        let title = format!(
            "Whole checks made: depth and wall ({}), tension ({})",
            print.name(Quantity::Length),
            print.name(Quantity::Stress)
        );
        self.layout.title(&title, out);
        let mut table =
            self.layout.table(&["cut to", "highest tension", "factor", "thinnest wall", "strength"]);
        let mut list: Vec<&Tested> = self.deepest.tested.iter().collect();
        list.sort_by(|a, b| a.value_mm.total_cmp(&b.value_mm));
        for tested in list {
            let depth = print.number(Quantity::Length, tested.value_mm);
            let strength = match (tested.holds, tested.rejects) {
                (true, _) => "holds",
                (false, false) => "OPEN",
                (false, true) => "FAILS",
            };
            if tested.word.is_none() {
                table.add_row(vec![depth, "no section".into(), "-".into(), "-".into(), strength.into()]);
                continue;
            }
            table.add_row(vec![
                depth,
                self.bounded(tested.peak_mpa, tested.bound_mpa),
                format!("{:.2}", tested.least_factor),
                tested.wall_mm.map_or("-".into(), |mm| print.number(Quantity::Length, mm)),
                strength.into(),
            ]);
        }
        let _ = writeln!(out, "{table}");
    }
}
