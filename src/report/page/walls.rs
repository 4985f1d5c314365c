//! Walls left, place by place, and the once-around fits.

use super::Page;
use crate::section::{Kind, WallLeft};
use crate::study::PlaceResult;
use crate::units::Kind as Quantity;
use std::fmt::Write as _;

/// Most grooves that stand side by side.
const MOST_BESIDE: usize = 8;

impl Page<'_> {
    pub(super) fn walls(&self, out: &mut String) {
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
        // A wide rim has more grooves than a page has room for: they stand below each other then.
        let block =
            if names.len() > MOST_BESIDE { names.len().div_ceil(2).min(MOST_BESIDE) } else { MOST_BESIDE };
        for (index, names) in names.chunks(block).enumerate() {
            let first = index * block;
            let mut header = vec!["place"];
            header.extend(names.iter().map(String::as_str));
            header.extend(["tension", "factor"]);
            let mut table = self.table(&header);
            for place in &self.result.places {
                let mut row = vec![place.name.clone()];
                row.extend(place.walls.iter().skip(first).take(names.len()).map(|wall| self.wall(wall)));
                row.resize(header.len() - 2, "none".into());
                row.push(place.peak_mpa.map_or("-".into(), |mpa| print.number(Quantity::Stress, mpa)));
                row.push(place.factor.map_or("-".into(), |f| format!("{f:.1}")));
                table.add_row(row);
            }
            let _ = writeln!(out, "{table}");
        }
        let _ = writeln!(
            out,
            "Tension in {} from one coarse mesh drawn over to every place, corrected by what the refined governing place showed of its error.",
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
}
