//! The page for a terminal.

use crate::report::Input;
use crate::report::layout::Layout;
use crate::study::grooves::{Concern, DepthBasis, GrooveStudy, JudgedCut};
use crate::survey::Survey;
use crate::units::Kind as Quantity;
use std::fmt::Write as _;
use std::ops::Deref;

/// The whole page; `colour` marks titles, `width` is the terminal's.
pub fn grooves_page(
    survey: &Survey,
    study: &GrooveStudy,
    input: &Input,
    colour: bool,
    width: usize,
) -> String {
    let page = Page { survey, study, layout: Layout::new(colour, width.max(80)) };
    let mut out = String::new();
    page.as_found(input, &mut out);
    page.side_by_side(&mut out);
    page.why_not(&mut out);
    page.search(&mut out);
    page.list("What this comparison assumes", &study.assumptions, &mut out);
    page.list("Not judged", &study.missing, &mut out);
    page.paragraph(
        "This is an engineering aid, not an approval. The code in force, the authority having jurisdiction and a licensed engineer decide. `rimproof check` on a survey with the chosen shape and depth gives the whole page with its sources.",
        "",
        &mut out,
    );
    out
}

pub(super) struct Page<'a> {
    pub survey: &'a Survey,
    pub study: &'a GrooveStudy,
    pub layout: Layout,
}

/// Titles, paragraphs and lists are called on the page itself.
impl Deref for Page<'_> {
    type Target = Layout;

    fn deref(&self) -> &Layout {
        &self.layout
    }
}

impl Page<'_> {
    fn show(&self, kind: Quantity, value: f64) -> String {
        self.survey.print.show(kind, value)
    }

    fn length(&self, mm: f64) -> String {
        self.show(Quantity::Length, mm)
    }

    fn as_found(&self, input: &Input, out: &mut String) {
        self.layout.head(self.survey, input, out);
        let study = self.study;
        let worst = self.length(study.worst_depth_mm);
        let mut text = format!(
            "As found: the worst seat lies {worst} below the rim edge; mean pitch diameter {}",
            self.length(study.pitch_diameter_now_mm)
        );
        if let Some(reserve) = study.traction_reserve_now {
            let _ = write!(text, "; traction reserve {reserve:.3}");
        }
        self.paragraph(&format!("{text}."), "", out);
    }

    fn side_by_side(&self, out: &mut String) {
        let study = self.study;
        self.title("Shapes side by side at one pitch diameter", out);
        let basis = match study.depth_basis {
            DepthBasis::Asked => "as asked",
            DepthBasis::Survey => "the survey's own cut",
            DepthBasis::CleanUp => "the worst groove and a clean-up of 1/16 in",
            DepthBasis::Diameter => "as deep as the ratio of diameters leaves open",
        };
        let Some(first) = study.compared.first() else { return };
        let mut text = format!(
            "The rope's lowest point {} below the rim edge ({basis}): pitch diameter {}, D/d {:.2}",
            self.length(study.depth_mm),
            self.length(first.pitch_diameter_mm),
            first.diameter_ratio
        );
        let speed = study.compared.iter().find_map(|cut| cut.found.as_ref()?.car_speed_after_m_s);
        if let (Some(after), Some(now)) = (speed, self.survey.roping.car_speed_m_s) {
            let _ = write!(
                text,
                "; car speed {} instead of {} ({:+.1} %)",
                self.show(Quantity::Speed, after),
                self.show(Quantity::Speed, now),
                100.0 * (after / now - 1.0)
            );
        }
        let _ = write!(text, ". Allowed: tension {}", self.show(Quantity::Stress, study.allowable_mpa));
        let limit = study.compared.iter().find_map(|cut| cut.found.as_ref()?.pressure_limit_mpa);
        if let Some(limit) = limit {
            let _ = write!(text, "; yardstick of pressure {}", self.show(Quantity::Stress, limit));
        }
        let rope = self.length(self.survey.roping.rope_diameter_mm);
        self.paragraph(&format!("{text}; wall rule {rope}."), "", out);
        let _ = writeln!(out, "{}", self.comparison());
        self.paragraph(
            "A reserve is a ratio: 1 just meets its rule. Stress: factor on ultimate strength over the one asked. Traction: least of limit over ratio, and of ratio over limit for the stalled case. Rope life: least safety factor of the ropes (EN 81-50, 5.12).",
            "",
            out,
        );
        if study.compared.iter().any(|cut| cut.proposal.stated) {
            self.paragraph("* the shape that the survey states to be cut.", "", out);
        }
        if let Some(table) = self.traction() {
            self.title("Limit of the tension ratio, e^(fα), by shape (EN 81-50, 5.11)", out);
            let _ = writeln!(out, "{table}");
        }
    }

    /// What stands against each shape besides traction, which has its table; equal reasons together.
    fn why_not(&self, out: &mut String) {
        let mut reasons: Vec<(Vec<&str>, String)> = Vec::new();
        let mut add = |name, why: String| match reasons.iter_mut().find(|(_, other)| *other == why) {
            Some((names, _)) => names.push(name),
            None => reasons.push((vec![name], why)),
        };
        for cut in &self.study.compared {
            let name = cut.proposal.name.as_str();
            let doubts = cut.found.iter().flat_map(|found| &found.doubts);
            for doubt in doubts.filter(|doubt| doubt.concern != Concern::Traction) {
                add(name, doubt.why.clone());
            }
            if let (None, Some(fault)) = (&cut.found, &cut.fault) {
                add(name, format!("Cannot be cut: {fault}."));
            }
        }
        let lines: Vec<String> =
            reasons.into_iter().map(|(names, why)| format!("{}: {why}", names.join(", "))).collect();
        self.list("What stands against them besides traction", &lines, out);
    }

    fn search(&self, out: &mut String) {
        let search = &self.study.search;
        self.title("The best shape and depth", out);
        match &search.best {
            Some(best) => self.best(best, out),
            None => self.paragraph(
                "No shape and depth meets every check. What comes nearest stands in the table below.",
                "",
                out,
            ),
        }
        if search.trade_off.is_empty() {
            self.paragraph("No shape can be cut that meets wall, diameter and clean-up.", "", out);
        } else {
            self.title("Stress reserve against traction reserve: what no other choice beats in both", out);
            let _ = writeln!(out, "{}", self.trade_off());
        }
        self.title("Depths looked at: coarse analyses; what could be best was checked in full", out);
        let _ = writeln!(out, "{}", self.depths());
        self.paragraph(
            "Depths are those of the rope's lowest point. A shape that would need half as much stress reserve again to matter was looked at in its shallowest cut only.",
            "",
            out,
        );
        let aside: Vec<String> = search.set_aside.iter().filter_map(|cut| self.aside(cut)).collect();
        self.list("Checked in full and set aside", &aside, out);
    }

    fn best(&self, best: &JudgedCut, out: &mut String) {
        let Some(found) = &best.found else { return };
        let mut text = format!(
            "{}, the rope's lowest point {} below the rim edge (tool to {}), meets every check with the most stress reserve: {:.2} ± {:.2}",
            best.proposal.name,
            self.length(best.depth_mm),
            self.length(found.bottom_depth_mm),
            found.stress_reserve,
            found.stress_reserve_bound.max(0.01)
        );
        if let Some(reserve) = found.traction_reserve {
            let _ = write!(text, ", traction reserve {reserve:.3}");
        }
        let _ = write!(
            text,
            ". Highest tension {} in the {}; pitch diameter {}, D/d {:.2}",
            self.survey.print.show_bounded(Quantity::Stress, found.peak_mpa, found.peak_bound_mpa),
            found.peak_words,
            self.length(best.pitch_diameter_mm),
            best.diameter_ratio
        );
        self.paragraph(&format!("{text}."), "", out);
        let level = &self.study.search.level_with_best;
        if !level.is_empty() {
            let names =
                level.iter().map(|level| format!("{} at {}", level.name, self.length(level.depth_mm)));
            let names = names.collect::<Vec<_>>().join(", ");
            self.paragraph(&format!("The error bars cannot tell it from {names}."), "", out);
        }
        for doubt in &found.doubts {
            self.paragraph(&format!("Open whatever is cut: {}", doubt.why), "! ", out);
        }
    }

    fn aside(&self, cut: &JudgedCut) -> Option<String> {
        let why = match (&cut.found, &cut.fault) {
            (Some(found), _) => {
                found.doubts.iter().map(|doubt| doubt.why.as_str()).collect::<Vec<_>>().join(" ")
            }
            (None, fault) => fault.clone()?,
        };
        Some(format!("{} to {}: {why}", cut.proposal.name, self.length(cut.depth_mm)))
    }
}
