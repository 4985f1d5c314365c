//! The invented wheels of the error-bar study, written as surveys so that they take the way of every check.
//!
//! They differ in what governs the error: the wheel under the rim, the seat's shape, the slot corner's radius,
//! the wall, the wear and the length of the wrap. None was chosen by its outcome.

use crate::manual::CaseFault;
use crate::manual::cases::sheet::survey_of;
use crate::survey::Survey;

/// One wheel of the study.
pub(super) struct Wheel {
    pub name: &'static str,
    groove: Groove,
    wheel: String,
    /// Angle of each station and its walls, one per groove; none for a wheel without an underside.
    stations: &'static [(f64, &'static [&'static str])],
    seat_depth_mm: &'static [f64],
    wrap_deg: f64,
    role: &'static str,
    tensions_kn: [f64; 2],
}

/// The shape of all grooves of a wheel.
#[derive(Clone, Copy)]
enum Groove {
    Round,
    Undercut { slot_deg: f64, corner_mm: f64 },
    V,
}

impl Groove {
    fn lines(self) -> String {
        let seat = "seat_radius = \"6.9 mm\"\nopening_angle = \"35 deg\"";
        match self {
            Self::Round => format!("shape = \"round\"\n{seat}"),
            Self::Undercut { slot_deg, corner_mm } => format!(
                "shape = \"undercut\"\n{seat}\nslot_angle = \"{slot_deg} deg\"\nslot_depth = \"4 mm\"\n\
                 slot_corner_radius = \"{corner_mm} mm\""
            ),
            Self::V => "shape = \"V\"\nangle = \"38 deg\"\nroot_depth = \"3 mm\"\nroot_radius = \"1 mm\"\n\
                 band_width = \"2 mm\"\nhardened = true"
                .to_owned(),
        }
    }
}

/// Webs by place and thickness, on a hub with a bore of 100 mm.
fn webs(kind: &str, hub_place_mm: f64, fillet_mm: f64, webs: &[(f64, f64)]) -> String {
    let mut text = format!(
        "kind = \"{kind}\"\nbore = \"100 mm\"\nhub_diameter = \"170 mm\"\nhub_length = \"120 mm\"\n\
         hub_place = \"{hub_place_mm} mm\"\n"
    );
    for (place, thickness) in webs {
        text += &format!(
            "\n[[wheel.web]]\nplace = \"{place} mm\"\nthickness = \"{thickness} mm\"\n\
             rim_fillet = \"{fillet_mm} mm\"\nhub_fillet = \"{fillet_mm} mm\"\n"
        );
    }
    text
}

fn one_web(place_mm: f64, thickness_mm: f64) -> String {
    webs("one web", place_mm, 6.0, &[(place_mm, thickness_mm)])
}

/// All wheels of the study.
pub(super) fn wheels() -> Vec<Wheel> {
    let undercut = |slot_deg, corner_mm| Groove::Undercut { slot_deg, corner_mm };
    let wheel = |name, groove, wheel, stations, seat_depth_mm| Wheel {
        name,
        groove,
        wheel,
        stations,
        seat_depth_mm,
        wrap_deg: 165.0,
        role: "drive",
        tensions_kn: [5.4, 4.1],
    };
    let bolted = "kind = \"bolted rim\"\n\n[wheel.flange]\nplace = \"-10 mm\"\nthickness = \"20 mm\"\n\
        rim_fillet = \"7 mm\"\ninner_diameter = \"220 mm\"\nseating_diameter = \"330 mm\"\n\
        seating_side = \"groove 1\"\n";
    let cored = webs("two webs", 0.0, 5.0, &[(-22.0, 11.0), (22.0, 11.0)]);
    vec![
        wheel(
            "one web, round seats",
            Groove::Round,
            one_web(0.0, 18.0),
            &[(0.0, &["21 mm", "solid", "22 mm"])],
            &[10.0, 10.1, 10.2],
        ),
        wheel(
            "one web, undercut seats",
            undercut(90.0, 1.5),
            one_web(0.0, 18.0),
            &[(0.0, &["27 mm", "26 mm", "solid", "27 mm", "26.5 mm"])],
            &[10.0, 10.1, 10.2, 10.0, 10.1],
        ),
        wheel(
            "one web off the middle, V grooves",
            Groove::V,
            one_web(-10.0, 18.0),
            &[(0.0, &["25 mm", "solid", "24 mm", "23 mm"])],
            &[10.0, 10.1, 10.2, 10.0],
        ),
        wheel(
            "two webs and a cavity",
            undercut(90.0, 1.5),
            cored,
            &[(0.0, &["26 mm", "solid", "25 mm", "24.5 mm", "solid", "25 mm"])],
            &[10.0, 10.1, 10.2, 10.0, 10.1, 10.2],
        ),
        wheel(
            "rim bolted on its flange",
            undercut(80.0, 1.5),
            bolted.to_owned(),
            &[(0.0, &["24 mm", "solid", "25 mm", "25 mm"])],
            &[10.0, 10.1, 10.2, 10.0],
        ),
        wheel(
            "thin wall",
            Groove::Round,
            one_web(0.0, 18.0),
            &[(0.0, &["15 mm", "14 mm", "solid", "14.5 mm", "15 mm"])],
            &[10.0, 10.1, 10.2, 10.0, 10.1],
        ),
        wheel(
            "slot corner of 0.8 mm",
            undercut(95.0, 0.8),
            one_web(0.0, 18.0),
            &[(0.0, &["24 mm", "24 mm", "solid", "23 mm", "24 mm"])],
            &[10.0, 10.1, 10.2, 10.0, 10.1],
        ),
        wheel(
            "solid disc, slot corner of 1 mm",
            undercut(90.0, 1.0),
            "kind = \"solid disc\"\nbore = \"100 mm\"\n".to_owned(),
            &[],
            &[10.0, 10.1, 10.2, 10.0],
        ),
        Wheel {
            wrap_deg: 40.0,
            role: "deflector",
            tensions_kn: [3.6, 3.6],
            ..wheel(
                "deflector, wrap of 40 degrees",
                Groove::Round,
                one_web(0.0, 12.0),
                &[(0.0, &["16 mm", "17 mm", "16 mm", "solid", "17 mm", "16 mm"])],
                &[10.0, 10.1, 10.2, 10.0, 10.1, 10.2],
            )
        },
        Wheel {
            wrap_deg: 180.0,
            ..wheel(
                "unequal wear, three stations",
                Groove::Round,
                one_web(0.0, 18.0),
                &[
                    (0.0, &["22 mm", "20 mm", "solid", "18 mm", "17 mm"]),
                    (120.0, &["21 mm", "19 mm", "solid", "17 mm", "16.2 mm"]),
                    (240.0, &["21.5 mm", "20 mm", "solid", "17.6 mm", "16.5 mm"]),
                ],
                &[10.0, 11.4, 12.9, 10.8, 13.6],
            )
        },
    ]
}

impl Wheel {
    /// The survey that the program reads from the wheel's text.
    ///
    /// # Errors
    /// With the program's own messages, when it finds a fault in the text.
    pub fn survey(&self) -> Result<Survey, CaseFault> {
        survey_of(&self.text())
    }

    fn text(&self) -> String {
        let list = |entries: Vec<String>| {
            entries.iter().map(|entry| format!("\"{entry}\"")).collect::<Vec<_>>().join(", ")
        };
        let mut walls = "by = \"solid\"\n".to_owned();
        if !self.stations.is_empty() {
            walls = "by = \"stations\"\nreading = \"radial\"\nfrom = \"seat\"\nreading_error = \"0.2 mm\"\n\
                thin_spot = \"found by scan\"\ndraft = \"1 deg\"\n"
                .to_owned();
        }
        for (angle, readings) in self.stations {
            let readings = list(readings.iter().map(|wall| (*wall).to_owned()).collect());
            walls += &format!("\n[[walls.station]]\nangle = \"{angle} deg\"\nwall = [{readings}]\n");
        }
        let (ropes, [heavy, light]) = (self.seat_depth_mm.len(), self.tensions_kn);
        format!(
            "survey = 1\n\n[roping]\narrangement = \"single wrap\"\nrole = \"{}\"\nratio = \"1:1\"\n\
             wrap = \"{} deg\"\nropes = {ropes}\nrope_diameter = \"13 mm\"\n\n\
             [load]\ngiven = \"tensions\"\nheavy_tension = \"{heavy} kN\"\nlight_tension = \"{light} kN\"\n\
             tension_spread = \"10 %\"\n\n[rim]\nwidth = \"{} mm\"\nedge_diameter = \"567 mm\"\n\n\
             [grooves]\npitch = \"20 mm\"\nseat_depth = [{}]\n\n[grooves.now]\n{}\n\n[wheel]\n{}\n\
             [walls]\n{walls}\n[material]\nkind = \"gray iron\"\nclass = 25\n\n[cut]\nplan = \"none\"\n",
            self.role,
            self.wrap_deg,
            22 * ropes + 4,
            list(self.seat_depth_mm.iter().map(|depth| format!("{depth} mm")).collect()),
            self.groove.lines(),
            self.wheel,
        )
    }
}
