//! The page a shop reads in its terminal.

use super::Input;
use crate::section::{Kind, State, WallLeft};
use crate::study::{CheckResult, PlaceResult};
use crate::survey::Survey;
use crate::units::Kind as Quantity;
use crate::verdict::{Amount, Check, Sense, Status, Word};
use anstyle::{AnsiColor, Style};
use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};
use std::fmt::Write as _;

/// The whole page; `colour` marks the verdict, `width` is the terminal's.
pub fn check_page(
    survey: &Survey,
    result: &CheckResult,
    input: &Input,
    colour: bool,
    width: usize,
) -> String {
    let page = Page { survey, result, colour, width: width.clamp(60, 120) };
    let mut out = String::new();
    page.head(input, &mut out);
    page.verdict(&mut out);
    page.stress(&mut out);
    page.walls(&mut out);
    page.checks(&mut out);
    page.loads(&mut out);
    page.trust(&mut out);
    page.list("What this answer assumes", &result.assumptions, &mut out);
    page.list("Not measured, and therefore not judged", &result.missing, &mut out);
    page.list("Cautions", &result.cautions, &mut out);
    out
}

struct Page<'a> {
    survey: &'a Survey,
    result: &'a CheckResult,
    colour: bool,
    width: usize,
}

impl Page<'_> {
    fn show(&self, kind: Quantity, value: f64) -> String {
        self.survey.print.show(kind, value)
    }

    /// "1720 ± 15 psi (11.9 ± 0.1 MPa)": the bound with the digits of the value.
    fn show_with_bound(&self, kind: Quantity, value: f64, bound: f64) -> String {
        let print = &self.survey.print;
        let like = |number: String, bound: f64| {
            let decimals = number.split_once('.').map_or(0, |(_, digits)| digits.len());
            let least = 10f64.powi(-(decimals as i32));
            format!("{number} ± {:.decimals$}", bound.max(least))
        };
        let own = print.unit(kind).map_or(bound, |unit| unit.from_inside(bound));
        let first = format!("{} {}", like(print.number(kind, value), own), print.name(kind));
        if print.name(kind) == kind.inside() {
            return first;
        }
        format!("{first} ({} {})", like(print.number_si(kind, value), bound), kind.inside())
    }

    fn amount(&self, amount: Amount) -> String {
        match amount.kind {
            Some(kind) => self.show(kind, amount.value),
            None => plain(amount.value),
        }
    }

    fn paint(&self, text: &str, style: Style) -> String {
        if self.colour { format!("{style}{text}{style:#}") } else { text.to_owned() }
    }

    fn title(&self, text: &str, out: &mut String) {
        let _ = writeln!(out, "\n{}", self.paint(text, Style::new().bold()));
    }

    fn paragraph(&self, text: &str, indent: &str, out: &mut String) {
        let options = textwrap::Options::new(self.width)
            .initial_indent(indent)
            .subsequent_indent("  ")
            .break_words(false);
        for line in textwrap::wrap(text, options) {
            let _ = writeln!(out, "{line}");
        }
    }

    fn list(&self, title: &str, lines: &[String], out: &mut String) {
        if lines.is_empty() {
            return;
        }
        self.title(title, out);
        for line in lines {
            self.paragraph(line, "- ", out);
        }
    }

    fn head(&self, input: &Input, out: &mut String) {
        let job = &self.survey.job;
        let _ =
            writeln!(out, "{}", self.paint(&format!("{} · {}", job.name, job.sheave), Style::new().bold()));
        let who = [("surveyed by", &job.surveyor), ("on", &job.date), ("with", &job.instruments)];
        let known: Vec<String> =
            who.iter().filter_map(|(word, value)| value.as_ref().map(|v| format!("{word} {v}"))).collect();
        if !known.is_empty() {
            self.paragraph(&known.join(" "), "", out);
        }
        let _ = writeln!(
            out,
            "rimproof {} · {} · sha256 {}",
            env!("CARGO_PKG_VERSION"),
            input.file,
            &input.sha256[..12.min(input.sha256.len())]
        );
    }

    fn verdict(&self, out: &mut String) {
        let verdict = &self.result.verdict;
        let colour = match verdict.word {
            Word::MayBeCut | Word::MayStay => AnsiColor::Cyan,
            Word::Reject => AnsiColor::Magenta,
            Word::Undecided => AnsiColor::Yellow,
        };
        let style = Style::new().bold().fg_color(Some(colour.into()));
        let asked = match (self.result.state, self.result.cut_depth_mm) {
            (State::Cut, Some(depth)) => {
                format!("asked: cut all seats to {} below the rim edge", self.show(Quantity::Length, depth))
            }
            _ => "asked: judge the sheave as it is".to_owned(),
        };
        let _ = writeln!(out, "\n{}  ({asked})", self.paint(verdict.word.text(), style));
        for head in &verdict.heads {
            self.paragraph(head, "! ", out);
        }
        self.paragraph(&verdict.reason, "", out);
        for settle in &verdict.settle {
            self.paragraph(&format!("To settle it: {settle}"), "", out);
        }
    }

    fn stress(&self, out: &mut String) {
        let governing = &self.result.governing;
        let stress = |mpa: f64| self.show(Quantity::Stress, mpa);
        self.title("Highest tension", out);
        let place = &self.result.places[governing.place];
        self.paragraph(
            &format!(
                "{} in the {}; place around the rim: {}.",
                self.show_with_bound(Quantity::Stress, governing.peak.principal_mpa[0], governing.bound_mpa),
                governing.peak_words,
                place.name
            ),
            "",
            out,
        );
        let mut table = self.table(&["stress", "found", "allowed", "factor on ultimate"]);
        let ultimate = self.result.metal.tensile_mpa;
        let mut row = |name: &str, mpa: f64| {
            let allowed = self.result.allowable_mpa;
            table.add_row(vec![
                name.to_owned(),
                stress(mpa),
                stress(allowed),
                format!("{:.1}", ultimate / mpa),
            ]);
        };
        row("peak", governing.peak.principal_mpa[0]);
        if let Some(notch) = governing.notch_mpa {
            row("averaged at the iron's own distance", notch);
        }
        if let Some(wall) = &governing.wall {
            row("through the wall (section)", wall.section_mpa);
        }
        let _ = writeln!(out, "{table}");
        self.paragraph(
            &format!(
                "Smallest factor by the criterion for this metal: {:.1} in the {}.",
                governing.least_factor, governing.least_factor_words
            ),
            "",
            out,
        );
        let parts: Vec<String> = governing
            .parts
            .iter()
            .take(5)
            .map(|part| format!("{} {}", part.part, self.short_stress(part.peak_mpa)))
            .collect();
        self.paragraph(&format!("Highest tension by part: {}.", parts.join(", ")), "", out);
    }

    fn short_stress(&self, mpa: f64) -> String {
        let print = &self.survey.print;
        format!("{} {}", print.number(Quantity::Stress, mpa), print.name(Quantity::Stress))
    }

    fn walls(&self, out: &mut String) {
        let print = &self.survey.print;
        self.title(
            &format!(
                "Wall left under each groove: least distance / along the radius from the seat ({})",
                print.name(Quantity::Length)
            ),
            out,
        );
        let names: Vec<String> =
            self.result.facts.grooves.iter().map(|g| format!("gr. {}", g.groove)).collect();
        let mut header = vec!["place".to_owned()];
        header.extend(names);
        header.push("tension".to_owned());
        header.push("factor".to_owned());
        let mut table = self.table(&header.iter().map(String::as_str).collect::<Vec<_>>());
        for place in &self.result.places {
            let mut row = vec![place.name.clone()];
            row.extend(place.walls.iter().map(|wall| self.wall(wall)));
            row.resize(header.len() - 2, "none".into());
            row.push(place.peak_mpa.map_or("-".into(), |mpa| print.number(Quantity::Stress, mpa)));
            row.push(place.factor.map_or("-".into(), |f| format!("{f:.1}")));
            table.add_row(row);
        }
        let _ = writeln!(out, "{table}");
        let _ = writeln!(
            out,
            "Tension in {} from the first mesh of each place; the governing place is refined above.",
            print.name(Quantity::Stress)
        );
        self.fits(out);
        self.missing_places(&self.result.places, out);
    }

    fn wall(&self, wall: &WallLeft) -> String {
        let number = |mm: f64| self.survey.print.number(Quantity::Length, mm);
        match (wall.solid, wall.least_mm, wall.radial_mm) {
            (true, ..) => "solid".into(),
            (_, Some(least), Some(radial)) => format!("{}/{}", number(least), number(radial)),
            (_, Some(least), None) => number(least),
            _ => "not measured".into(),
        }
    }

    fn fits(&self, out: &mut String) {
        let estimated = self.result.places.iter().any(|place| place.kind == Kind::Thinnest);
        if !estimated {
            return;
        }
        for (index, spot) in self.result.thin_spots.iter().enumerate() {
            let Some(spot) = spot else { continue };
            let bound = spot
                .lower_bound_mm
                .map_or(String::new(), |mm| format!(", 95 % bound {}", self.show(Quantity::Length, mm)));
            self.paragraph(
                &format!(
                    "Groove {}: wall as found, once-around fit: thinnest {} at {:.0}°{bound}; mean {}, core shift {}.",
                    index + 1,
                    self.show(Quantity::Length, spot.thinnest_mm),
                    spot.thinnest_angle_rad.to_degrees(),
                    self.show(Quantity::Length, spot.mean_mm),
                    self.show(Quantity::Length, spot.amplitude_mm)
                ),
                "",
                out,
            );
        }
    }

    fn missing_places(&self, places: &[PlaceResult], out: &mut String) {
        for place in places {
            if let Some(fault) = &place.fault {
                self.paragraph(&format!("{}: no section: {fault}", place.name), "! ", out);
            }
        }
    }

    fn checks(&self, out: &mut String) {
        self.title("Checks", out);
        let mut table = self.table(&["check", "found", "limit", "margin", "result"]);
        for check in &self.result.checks {
            table.add_row(self.check_row(check));
        }
        let _ = writeln!(out, "{table}");
        for check in self.result.checks.iter().filter(|check| check.found.is_none()) {
            if let Some(remark) = &check.remark {
                self.paragraph(&format!("{}: {remark}", check.name), "", out);
            }
        }
        self.title("Basis and source of each check", out);
        for check in self.result.checks.iter().filter(|check| !check.source.is_empty()) {
            self.paragraph(&format!("{}: {}. Source: {}.", check.name, check.basis, check.source), "- ", out);
        }
    }

    fn check_row(&self, check: &Check) -> Vec<String> {
        let word = match check.status {
            Status::Holds => "holds",
            Status::Fails => "FAILS",
            Status::Open => "OPEN",
            Status::Noted => "noted",
        };
        let sense = match check.sense {
            Sense::AtMost => "at most ",
            Sense::AtLeast => "at least ",
        };
        vec![
            check.name.clone(),
            check.found.map_or("-".into(), |found| self.amount(found)),
            check.limit.map_or("-".into(), |limit| format!("{sense}{}", self.amount(limit))),
            check.margin().map_or("-".into(), |margin| format!("{:+.0} %", 100.0 * margin)),
            word.into(),
        ]
    }

    fn loads(&self, out: &mut String) {
        let loads = &self.result.loads;
        let force = |n: f64| self.show(Quantity::Force, n);
        self.title("Rope loads", out);
        let mut table =
            self.table(&["case", "heavy side per rope", "light side per rope", "ratio", "tension", "factor"]);
        let stress = |mpa: f64| self.survey.print.number(Quantity::Stress, mpa);
        for (index, case) in loads.cases.iter().enumerate() {
            let result = index.checked_sub(1).and_then(|i| self.result.cases.get(i));
            let (peak, factor) = result.map_or(
                (self.result.governing.peak.principal_mpa[0], self.result.governing.least_factor),
                |r| (r.peak_mpa, r.least_factor),
            );
            table.add_row(vec![
                case.kind.name().to_owned(),
                force(case.mean_heavy_n()),
                force(case.mean_light_n()),
                format!("{:.3}", case.ratio()),
                stress(peak),
                format!("{factor:.1}"),
            ]);
        }
        let _ = writeln!(out, "{table}");
        self.paragraph(
            &format!(
                "The first case is judged; the others are shown (first mesh; tension in {}). Wheel takes {} from the ropes.",
                self.survey.print.name(Quantity::Stress),
                force(loads.pulls_n)
            ),
            "",
            out,
        );
        for variant in &self.result.variants {
            self.paragraph(
                &format!("If instead the {}: {:+.1} %.", variant.name, 100.0 * variant.change),
                "- ",
                out,
            );
        }
        let facts = &self.result.facts;
        let length = |mm: f64| self.show(Quantity::Length, mm);
        let range = |get: fn(&crate::study::GrooveFacts) -> f64| {
            let values: Vec<f64> = facts.grooves.iter().map(get).collect();
            let (low, high) = (
                values.iter().copied().fold(f64::INFINITY, f64::min),
                values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
            );
            if high - low < 0.005 { length(low) } else { format!("{} to {}", length(low), length(high)) }
        };
        self.paragraph(
            &format!(
                "Pitch diameter as found {}, as judged {}.",
                range(|g| g.pitch_diameter_now_mm),
                range(|g| g.pitch_diameter_judged_mm)
            ),
            "",
            out,
        );
        if let (Some(after), Some(before)) = (facts.car_speed_after_m_s, self.survey.roping.car_speed_m_s) {
            self.paragraph(
                &format!(
                    "Car speed {} becomes {} at the same motor speed.",
                    self.show(Quantity::Speed, before),
                    self.show(Quantity::Speed, after)
                ),
                "",
                out,
            );
        }
    }

    fn trust(&self, out: &mut String) {
        let convergence = &self.result.convergence;
        self.title("How far to trust the numbers", out);
        let mut table = self.table(&["mesh", "triangles", "smallest angle", "unknowns", "harmonics", "peak"]);
        for (index, step) in convergence.meshes.iter().enumerate() {
            table.add_row(vec![
                format!("{}", index + 1),
                step.quality.triangles.to_string(),
                format!("{:.1}°", step.quality.smallest_angle_deg),
                step.unknowns.to_string(),
                step.last_harmonic.to_string(),
                self.show(Quantity::Stress, step.peak_mpa),
            ]);
        }
        let _ = writeln!(out, "{table}");
        let balance = &convergence.balance;
        let loads = &self.result.loads;
        self.paragraph(
            &format!(
                "Applied rope load {}, vector sum of the rope pulls {}, shaft's reaction {}; applied load against the load asked for: gap {:.0e}; reaction and work against load and energy: gap {:.0e}; allowed 1e-6.",
                self.show(Quantity::Force, loads.applied_n),
                self.show(Quantity::Force, loads.pulls_n),
                self.show(Quantity::Force, loads.reaction_n),
                convergence.resultant_gap,
                balance.gap
            ),
            "",
            out,
        );
        self.paragraph(
            &format!(
                "Strain energy {:.6} J, half the work of the loads {:.6} J. The drag acts on the seats, a little below the rope's centre line: its moment is kept exact, which adds {:.3} % to the resultant.",
                1e-3 * balance.energy_nmm,
                1e-3 * balance.work_nmm,
                100.0 * (loads.applied_n / loads.pulls_n - 1.0)
            ),
            "",
            out,
        );
        for exclusion in &convergence.exclusions {
            self.paragraph(&format!("Not searched: {}.", exclusion.reason), "", out);
        }
    }

    fn table(&self, header: &[&str]) -> Table {
        let mut table = Table::new();
        table
            .load_style(TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─')))
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(self.width as u16)
            .set_header(header);
        for column in table.column_iter_mut().skip(1) {
            column.set_cell_alignment(CellAlignment::Right);
        }
        table
    }
}

fn plain(value: f64) -> String {
    if value.fract() == 0.0 && value.abs() < 1e6 { format!("{value:.0}") } else { format!("{value:.2}") }
}
