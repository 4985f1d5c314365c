//! A small invented survey, written as its text so that cases run through the program's own reading.
//!
//! Owns the text and its reading; a case replaces the parts that it is about. Units stand in the text.

use crate::diagnostics::Look;
use crate::manual::CaseFault;
use crate::survey::{Files, Survey, read};
use std::fmt::Write;
use std::io;
use std::path::Path;

/// The parts of the survey that cases change. Every groove is alike and lies 10 mm below the rim edge of
/// 567 mm, which puts the pitch diameter of a 13 mm rope at 560 mm.
#[derive(Debug, Clone)]
pub(super) struct Sheet {
    /// One groove for each rope.
    pub ropes: usize,
    pub ratio: &'static str,
    pub wrap_deg: f64,
    /// Further lines of the table roping.
    pub roping: &'static str,
    /// Lines of the table load behind the masses.
    pub load: &'static str,
    pub car_kg: f64,
    pub rated_kg: f64,
    /// Lines of the table grooves.now.
    pub groove: String,
    /// Lines of the table wheel; one web in the middle where empty, and solid where the walls are.
    pub wheel: &'static str,
    /// Lines of the table walls with its stations; solid to the shaft where empty.
    pub walls: String,
    pub seat_depth_mm: Vec<f64>,
    /// Lines of the table cut.
    pub cut: String,
}

impl Sheet {
    /// A solid wheel with round seats; 50 % of the rated load is balanced.
    pub fn new(car_kg: f64, rated_kg: f64, ropes: usize) -> Self {
        Self {
            ropes,
            ratio: "1:1",
            wrap_deg: 180.0,
            roping: "",
            load: "",
            car_kg,
            rated_kg,
            groove: seat(30.0, 0.0, 6.9),
            wheel: "",
            walls: String::new(),
            seat_depth_mm: vec![10.0; ropes],
            cut: "plan = \"none\"".to_owned(),
        }
    }

    /// The survey as a person would have written it.
    pub fn text(&self) -> String {
        let (walls, wheel) = if self.walls.is_empty() {
            ("by = \"solid\"", "kind = \"solid disc\"\nbore = \"100 mm\"")
        } else {
            (self.walls.as_str(), if self.wheel.is_empty() { ONE_WEB } else { self.wheel })
        };
        let depths: Vec<String> = self.seat_depth_mm.iter().map(|depth| format!("\"{depth} mm\"")).collect();
        let mut text =
            String::from("survey = 1\n\n[roping]\narrangement = \"single wrap\"\nrole = \"drive\"\n");
        let _ = writeln!(text, "ratio = \"{}\"\nwrap = \"{} deg\"", self.ratio, self.wrap_deg);
        let _ = writeln!(text, "ropes = {}\nrope_diameter = \"13 mm\"\n{}", self.ropes, self.roping);
        let _ = writeln!(text, "[load]\ngiven = \"masses\"\ncar = \"{} kg\"", self.car_kg);
        let _ = writeln!(text, "rated_load = \"{} kg\"\nbalance = \"50 %\"\n{}", self.rated_kg, self.load);
        let _ = writeln!(text, "[rim]\nwidth = \"{} mm\"\nedge_diameter = \"567 mm\"\n", 22 * self.ropes + 4);
        let _ = writeln!(text, "[grooves]\npitch = \"20 mm\"\nseat_depth = [{}]\n", depths.join(", "));
        let _ = writeln!(text, "[grooves.now]\n{}\n\n[wheel]\n{wheel}\n\n[walls]\n{walls}\n", self.groove);
        let _ = writeln!(text, "[material]\nkind = \"gray iron\"\nclass = 25\n\n[cut]\n{}", self.cut);
        if !self.cut.contains("none") {
            let _ = writeln!(text, "\n[grooves.cut_to]\n{}", self.groove);
        }
        text
    }

    /// The survey that the program reads from the text.
    ///
    /// # Errors
    /// With the program's own messages, when it finds a fault in the text.
    pub fn read(&self) -> Result<Survey, CaseFault> {
        survey_of(&self.text())
    }
}

/// Lines of the table walls: an underside drafted by so many degrees, with one reading along the radius under the
/// first groove (mm).
pub(super) fn drafted(draft_deg: f64, wall_mm: f64) -> String {
    format!(
        "by = \"draft and wall\"\nreading = \"radial\"\nfrom = \"seat\"\nreading_error = \"0.2 mm\"\n\
         draft = \"{draft_deg} deg\"\nwall = \"{wall_mm} mm\"\nat_groove = 1"
    )
}

/// The survey that the program reads from a text that names no further files.
///
/// # Errors
/// With the program's own messages, when it finds a fault in the text.
pub(super) fn survey_of(text: &str) -> Result<Survey, CaseFault> {
    let reading = read(text.as_bytes(), Path::new("survey.toml"), &NoFiles);
    let diagnostics = reading.diagnostics;
    reading.survey.ok_or_else(|| CaseFault::Other(diagnostics.render(Look::Plain)))
}

const ONE_WEB: &str = "kind = \"one web\"\nbore = \"100 mm\"\nhub_diameter = \"170 mm\"\nhub_length = \"100 mm\"\n\
    hub_place = \"0 mm\"\n\n[[wheel.web]]\nplace = \"0 mm\"\nthickness = \"18 mm\"\nrim_fillet = \"6 mm\"\n\
    hub_fillet = \"6 mm\"";

/// Lines of a round seat, or of an undercut one where the slot angle is not zero.
pub(super) fn seat(opening_deg: f64, slot_deg: f64, radius_mm: f64) -> String {
    let shape = if slot_deg == 0.0 { "round" } else { "undercut" };
    let mut lines = format!(
        "shape = \"{shape}\"\nseat_radius = \"{radius_mm} mm\"\nopening_angle = \"{opening_deg} deg\""
    );
    if slot_deg != 0.0 {
        let _ = write!(
            lines,
            "\nslot_angle = \"{slot_deg} deg\"\nslot_depth = \"4 mm\"\nslot_corner_radius = \"1.5 mm\""
        );
    }
    lines
}

/// Lines of a hardened V groove.
pub(super) fn v_groove(angle_deg: f64) -> String {
    format!(
        "shape = \"V\"\nangle = \"{angle_deg} deg\"\nroot_depth = \"3 mm\"\nroot_radius = \"1 mm\"\n\
         band_width = \"2 mm\"\nhardened = true"
    )
}

/// The survey names no further files.
pub(super) struct NoFiles;

impl Files for NoFiles {
    fn read(&self, _: &Path) -> io::Result<Vec<u8>> {
        Err(io::Error::from(io::ErrorKind::NotFound))
    }
}
