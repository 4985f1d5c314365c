//! How the stress at the iron's own distance came about, and how far it may be trusted.

use super::Page;
use crate::units::Kind as Quantity;

impl Page<'_> {
    pub(super) fn notch(&self, out: &mut String) {
        let governing = &self.result.governing;
        let length = |mm: f64| self.show(Quantity::Length, mm);
        if let Some(why) = &governing.notch_missing {
            self.paragraph(&format!("No stress is averaged at the iron's own distance: {why}."), "", out);
        }
        let Some(notch) = &governing.notch else { return };
        let ends: Vec<String> = notch
            .band
            .iter()
            .map(|end| {
                let found =
                    end.notch_mpa.map_or("wall too thin for it".to_owned(), |mpa| self.short_stress(mpa));
                format!("{found} at L = {}", length(end.critical_distance_mm))
            })
            .collect();
        let text = format!(
            "Averaged along the normal below the hot spot, L = (K_Ic/strength)²/π = {}: {} at L/2, {} over 2L; the larger counts. The toughness of this iron is known as a band only: {}; its low end is judged. Taylor, The Theory of Critical Distances, 2007: for brittle metals and surfaces under tension, where 2L takes no more than half of the iron below the surface.",
            length(notch.critical_distance_mm),
            self.short_stress(notch.point_mpa),
            self.short_stress(notch.line_mpa),
            ends.join(", ")
        );
        self.paragraph(&text, "", out);
    }
}
