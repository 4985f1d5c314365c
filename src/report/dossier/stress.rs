//! Stress: where, how much, over the section and over one turn; what the iron bears.

use super::Dossier;
use super::first_page::capital;
use crate::geometry::Edge;
use crate::report::paper::{Block, Figure};
use crate::report::pictures::{self, Course, Map};
use crate::section::tags;
use crate::strength::surface_crack::Shape;
use crate::study::{Flaw, Turns};
use crate::units::Kind as Quantity;

impl Dossier<'_> {
    pub(super) fn stress(&self, body: &mut Vec<Block>) {
        let governing = &self.result.governing;
        body.push(Block::heading(2, "Stress", "stress"));
        body.push(Block::text(format!(
            "The highest tension is in the {}; place around the rim: {}. Smallest factor by the criterion for this metal: {:.1} in the {}.",
            governing.peak_words,
            self.result.places[governing.place].name,
            governing.least_factor,
            governing.least_factor_words
        )));
        body.push(self.three_stresses());
        self.maps(body);
        self.turn(body);
        body.push(Block::Screen(self.live()));
        self.iron(body);
        self.cycle(body);
        self.cracks(body);
    }

    fn three_stresses(&self) -> Block {
        let governing = &self.result.governing;
        let print = &self.survey.print;
        let row = |name: &str, mpa: f64, bound: f64| {
            vec![
                name.to_owned(),
                print.show_bounded(Quantity::Stress, mpa, bound),
                self.show(Quantity::Stress, self.result.allowable_mpa),
                format!("{:.1}", self.result.metal.tensile_mpa / mpa),
            ]
        };
        let mut rows = vec![row("peak", governing.peak.principal_mpa[0], governing.bound_mpa)];
        if let Some(notch) = &governing.notch {
            rows.push(row("averaged at the iron's own distance", notch.notch_mpa, notch.bound_mpa));
        }
        if let Some(wall) = &governing.wall {
            rows.push(row("through the whole wall", wall.section_mpa, wall.section_bound_mpa));
        }
        Block::table(
            &[("stress", false), ("found", true), ("allowed", true), ("factor on ultimate", true)],
            rows,
        )
    }

    fn maps(&self, body: &mut Vec<Block>) {
        let peak = &self.result.governing.peak;
        let solution = &self.outcome.analysis.solution;
        let section = &self.outcome.section;
        let degrees = format!("{:.1}", peak.theta_rad.to_degrees()).replace('-', "−");
        let map = |values: &[f64], signed: bool, title: &str| {
            let map = Map {
                outline: &section.outline,
                mesh: &solution.mesh,
                values,
                signed,
                rim_from_mm: self.rim_from_mm(),
                peak: peak.at,
                print: &self.survey.print,
            };
            pictures::map(&map, title)
        };
        let caption = format!(
            "Principal stress that is largest in size, at θ = {degrees}° from the middle of the wrap, where the tension is highest (ring). Tension positive; compression beyond the first band is ruled over in white. The whole section, and the rim larger. {}",
            pictures::SOURCE
        );
        let svg = map(&pictures::stress_at(solution, peak.theta_rad), true, &caption);
        body.push(Block::Figure(Figure { name: "stress".into(), caption, svg }));
        let caption =
            "Highest tension of a whole turn at every place: the worst over all θ. Ring: the highest of all."
                .to_owned();
        let svg = map(&pictures::envelope(solution, peak.theta_rad), false, &caption);
        body.push(Block::Figure(Figure { name: "envelope".into(), caption, svg }));
        let (svg, factor) = pictures::deformed(section, solution, peak.theta_rad, self.rim_from_mm());
        let caption = format!(
            "How the section gives way at θ = {degrees}°: displacements within the section's plane drawn {factor} times as large as they are; the whole section, and the rim larger. Thin: at rest."
        );
        body.push(Block::Figure(Figure { name: "deformed".into(), caption, svg }));
    }

    /// Radius from which the rim is shown larger: its underside is seen, and a stub of what carries it.
    pub(super) fn rim_from_mm(&self) -> f64 {
        let section = &self.outcome.section;
        let outline = &section.outline;
        let top = outline.bounds().1.r;
        let under = |edge: &&Edge| matches!(outline.tag_name(edge), tags::UNDERSIDE | tags::WEB_FILLET);
        let lowest = outline.edges().filter(under).map(|edge| edge.start.r.min(edge.end.r)).reduce(f64::min);
        let grooves =
            section.grooves.iter().map(|groove| groove.lowest_radius_mm).fold(f64::INFINITY, f64::min);
        lowest.map_or(grooves - 1.6 * (top - grooves), |r| r - 0.1 * (top - r))
    }

    fn turn(&self, body: &mut Vec<Block>) {
        let peak = &self.result.governing.peak;
        let caption = "Stress at the place of the highest tension over one turn: solid, the highest principal stress; dashed grey, the lowest. Shaded: where the ropes lie on the wheel.".to_owned();
        let course = Course {
            solution: &self.outcome.analysis.solution,
            node: peak.node,
            peak_rad: peak.theta_rad,
            wraps_rad: self.wraps_rad(),
            allowable_mpa: self.result.allowable_mpa,
            print: &self.survey.print,
        };
        let svg = pictures::course(&course, &caption);
        body.push(Block::Figure(Figure { name: "turn".into(), caption, svg }));
    }

    fn iron(&self, body: &mut Vec<Block>) {
        let result = self.result;
        body.push(Block::heading(3, "What the iron is taken to bear", ""));
        body.push(Block::text(format!(
            "{}: tensile strength {}, over {}: {} allowed.",
            capital(&result.metal.name),
            self.show(Quantity::Stress, result.metal.tensile_mpa),
            result.safety_factor,
            self.show(Quantity::Stress, result.allowable_mpa)
        )));
        let Some(band) = &result.hardness_band else { return };
        let rows = band.levels.iter().map(|level| {
            vec![
                format!(
                    "{} by hardness, {:.0} HB at RH {:.1}",
                    level.name, band.lowest_hardness_hb, level.relative_hardness
                ),
                self.own(Quantity::Stress, level.tensile_mpa),
                self.own(Quantity::Stress, level.allowable_mpa),
                format!("{:.1}", level.least_factor),
                format!("{}{}", level.word.text(), if level.may_accept { "" } else { " (shown only)" }),
            ]
        });
        let heads = [
            ("strength", false),
            ("tensile", true),
            ("allowed", true),
            ("factor", true),
            ("word it would give", false),
        ];
        body.push(Block::table(&heads, rows.collect()));
        body.push(Block::note("Relative hardness RH = HB/(100 + 0.44·R_m) of 1.2 to 0.8, lowest reading (EN 1561, annex on hardness; constants from memory). The likely and high strengths accept nothing."));
    }

    fn cycle(&self, body: &mut Vec<Block>) {
        let Some(turns) = &self.result.turns else { return };
        body.push(Block::heading(3, "One turn is one stress cycle", ""));
        let Turns { least_factor, words, amplitude_mpa, mean_mpa, endurance_mpa, .. } = turns;
        body.push(Block::text(format!(
            "Fatigue factor {least_factor:.1} ± {:.1} in the {words}: the stress on the worst plane swings by {} to both sides of {}; endurance limit {} (mean of machined bars, from memory). A factor above one passes nothing, and no life is promised.",
            turns.factor_bound.max(0.1),
            self.show(Quantity::Stress, *amplitude_mpa),
            self.show(Quantity::Stress, *mean_mpa),
            self.show(Quantity::Stress, *endurance_mpa)
        )));
    }

    fn cracks(&self, body: &mut Vec<Block>) {
        if self.result.flaws.is_empty() {
            return;
        }
        body.push(Block::heading(3, "How deep a crack would have to be", ""));
        body.push(Block::Strong("A visible crack takes the wheel out of service, whatever the numbers say, and gray iron is not welded (common practice, no source).".into()));
        let rows = self.result.flaws.iter().flat_map(|flaw| self.crack_rows(flaw));
        let heads = [
            ("place", false),
            ("crack", false),
            ("K_Ic, N/mm^1.5", true),
            ("depth", true),
            ("of the wall", true),
        ];
        body.push(Block::table(&heads, rows.collect()));
        body.push(Block::note("Depth at which K reaches K_Ic under the rated load at rest. Long: edge crack in a strip (Tada, Paris & Irwin, from memory). Half-round: Newman & Raju, 1981 (from memory). Toughness: EN 1561 annex A, this grade and one grade higher."));
    }

    fn crack_rows(&self, flaw: &Flaw) -> Vec<Vec<String>> {
        let row = |crack: &crate::study::CrackDepth| {
            let shape = match crack.shape {
                Shape::Long => "long along the surface",
                Shape::HalfRound => "half-round",
            };
            let (depth, share) = match (crack.depth_mm, crack.wall_share) {
                (Some(depth), Some(share)) => (self.show(Quantity::Length, depth), format!("{share:.2}")),
                _ => (
                    format!(
                        "deeper than {}",
                        self.show(Quantity::Length, crack.covered_wall_share * flaw.wall_mm)
                    ),
                    format!("over {:.1}", crack.covered_wall_share),
                ),
            };
            vec![flaw.words.clone(), shape.to_owned(), format!("{:.0}", crack.toughness_n_mm15), depth, share]
        };
        flaw.cracks.iter().map(row).collect()
    }
}
