//! Further wheels of the error-bar study, on the small survey of the manual's other cases.

use crate::manual::cases::sheet::{Sheet, drafted, seat, v_groove};

const TWO_WEBS: &str = "kind = \"two webs\"\nbore = \"100 mm\"\nhub_diameter = \"170 mm\"\nhub_length = \"110 mm\"\n\
    hub_place = \"0 mm\"\n\n[[wheel.web]]\nplace = \"-24 mm\"\nthickness = \"11 mm\"\nrim_fillet = \"5 mm\"\n\
    hub_fillet = \"5 mm\"\n\n[[wheel.web]]\nplace = \"24 mm\"\nthickness = \"11 mm\"\nrim_fillet = \"5 mm\"\n\
    hub_fillet = \"5 mm\"";
const WEB_ASIDE: &str = "kind = \"one web\"\nbore = \"90 mm\"\nhub_diameter = \"160 mm\"\nhub_length = \"100 mm\"\n\
    hub_place = \"8 mm\"\n\n[[wheel.web]]\nplace = \"12 mm\"\nthickness = \"14 mm\"\nrim_fillet = \"3 mm\"\n\
    hub_fillet = \"8 mm\"";

fn wheel(groove: String, ropes: usize, draft: f64, wall: f64) -> Sheet {
    let mut sheet = Sheet::new(1100.0, 900.0, ropes);
    sheet.groove = groove;
    sheet.walls = drafted(draft, wall);
    sheet
}

/// The wheels with their names.
pub(super) fn sheets() -> Vec<(&'static str, Sheet)> {
    let mut list = vec![
        ("round seats, three ropes", wheel(seat(30.0, 0.0, 6.9), 3, 3.0, 15.0)),
        ("round seats, five ropes, wide overhang", wheel(seat(30.0, 0.0, 6.9), 5, 2.0, 16.0)),
        ("round seats, thin wall", wheel(seat(30.0, 0.0, 6.9), 3, 3.0, 7.0)),
        ("slot of 80°", wheel(seat(30.0, 80.0, 6.9), 4, 3.0, 20.0)),
        ("slot of 100°, thin wall", wheel(seat(30.0, 100.0, 6.9), 3, 4.0, 14.0)),
        ("V grooves of 40°", wheel(v_groove(40.0), 3, 3.0, 18.0)),
        ("V grooves of 35°, five ropes", wheel(v_groove(35.0), 5, 2.0, 22.0)),
    ];
    let mut worn = wheel(seat(30.0, 0.0, 6.9), 4, 3.0, 17.0);
    worn.seat_depth_mm = vec![10.0, 12.5, 11.0, 10.5];
    list.push(("unequal wear", worn));
    let mut sharp = wheel(seat(30.0, 90.0, 6.9), 4, 3.0, 20.0);
    sharp.groove = sharp.groove.replace("slot_corner_radius = \"1.5 mm\"", "slot_corner_radius = \"0.8 mm\"");
    list.push(("slot corners of 0.8 mm", sharp));
    let mut disc = Sheet::new(1100.0, 900.0, 3);
    disc.groove = seat(30.0, 85.0, 6.9);
    list.push(("solid disc with slots", disc));
    let mut two = wheel(seat(30.0, 0.0, 6.9), 5, 2.0, 14.0);
    two.wheel = TWO_WEBS;
    list.push(("two webs", two));
    let mut aside = wheel(seat(30.0, 0.0, 6.9), 4, 2.0, 13.0);
    aside.wheel = WEB_ASIDE;
    aside.wrap_deg = 155.0;
    list.push(("web out of the middle, wrap of 155°", aside));
    list
}
