//! Sections of invented wheels: walls, fillets, cuts, and what must be refused.

use super::*;
use crate::survey::*;
use crate::units::PrintUnits;

const INCH: f64 = 25.4;

/// A five-groove, one-web wheel in inches, all walls alike.
pub(crate) fn one_web() -> Survey {
    let undercut = GrooveShape::Undercut {
        seat_radius_mm: 0.53 * 0.5 * INCH,
        opening_angle_rad: 35f64.to_radians(),
        support_angle_rad: None,
        slot_angle_rad: 90f64.to_radians(),
        slot_depth_mm: 4.0,
        slot_corner_radius_mm: 1.5,
    };
    Survey {
        job: Job::default(),
        double_wrap: None,
        roping: Roping {
            role: Role::Drive,
            ratio: 1,
            wrap_rad: 165f64.to_radians(),
            ropes: 5,
            rope_diameter_mm: 0.5 * INCH,
            car_speed_m_s: Some(1.78),
            retardation_m_s2: Some(0.5),
            creep: Creep::WholeWrap,
            rope_facts: RopeFacts::default(),
        },
        load: Load {
            given: Given::Masses,
            masses: Some(Masses {
                car_kg: 1542.0,
                rated_kg: 1134.0,
                counterweight_kg: 2052.0,
                rope_kg_m: None,
                compensation_kg_m: None,
                cable_kg_m: None,
                travel_m: None,
            }),
            tension_spread: 0.0,
            emergency_multiple: None,
            trips_per_day: None,
            travel_m: None,
        },
        rim: Rim { width_mm: 4.5 * INCH, edge_radius_mm: 13.25 * INCH, nominal_pitch_diameter_mm: None },
        grooves: Grooves {
            pitch_mm: 0.75 * INCH,
            offset_mm: 0.0,
            roped: vec![true; 5],
            seat_depth_mm: [0.52, 0.55, 0.61, 0.53, 0.57].map(|d| d * INCH).to_vec(),
            now: vec![undercut.clone(); 5],
            cut_to: Some(undercut),
            mouth_radius_mm: 0.5,
        },
        walls: Walls {
            reading: WallReading::Radial,
            from: WallFrom::Seat,
            reading_error_mm: Some(0.25),
            thin_spot_found: true,
            underside: Underside::Draft { draft_rad: 2f64.to_radians(), wall_mm: 1.13 * INCH, at_groove: 3 },
        },
        wheel: Wheel::OneWeb {
            web: Web { place_mm: 0.0, thickness_mm: 0.875 * INCH, rim_fillet_mm: 10.0, hub_fillet_mm: 10.0 },
            hub: Hub { bore_radius_mm: 50.0, radius_mm: 85.0, length_mm: 120.0, place_mm: 0.0 },
        },
        material: MaterialFacts {
            kind: MetalKind::Unknown,
            class: None,
            tensile_mpa: None,
            yield_mpa: None,
            elongation: None,
            hardness_hb: vec![],
            hardness_by_depth: vec![],
            strength_from: StrengthFrom::Casting,
        },
        cut: Cut::ToDepth { depth_mm: 0.67 * INCH },
        judgement: Judgement { safety_factor: None },
        doubt: Doubt::default(),
        print: PrintUnits::metric(),
        notes: vec![],
    }
}

fn uniform() -> Place {
    Place { kind: Kind::Uniform, walls: vec![], lines: None }
}

#[test]
fn the_wall_left_is_counted_from_the_grooves_as_found() {
    let survey = one_web();
    let now = Section::build(&survey, State::Now, &uniform()).unwrap();
    let cut = Section::build(&survey, State::Cut, &uniform()).unwrap();
    assert!(now.walls[2].solid && cut.walls[2].solid);
    for (before, after) in now.walls.iter().zip(&cut.walls).filter(|(w, _)| !w.solid) {
        let index = before.groove - 1;
        let removed = (0.67 - [0.52, 0.55, 0.61, 0.53, 0.57][index]) * INCH;
        let (old, new) = (before.radial_mm.unwrap(), after.radial_mm.unwrap());
        assert!((old - new - removed).abs() < 1e-6, "groove {}: {old} {new}", before.groove);
        // The slot takes its depth off the seat's wall; the slanted underside shortens the rest.
        let least = after.least_mm.unwrap();
        assert!(least < new - 4.0 + 1e-6 && least > new - 5.0, "{least} {new}");
    }
    // Drafted: the wall thins away from the web.
    assert!(cut.walls[0].radial_mm.unwrap() < cut.walls[1].radial_mm.unwrap());
}

#[test]
fn every_kind_of_wheel_closes() {
    let mut survey = one_web();
    let web =
        |place: f64| Web { place_mm: place, thickness_mm: 12.0, rim_fillet_mm: 6.0, hub_fillet_mm: 6.0 };
    let hub = Hub { bore_radius_mm: 50.0, radius_mm: 85.0, length_mm: 130.0, place_mm: 0.0 };
    survey.wheel = Wheel::TwoWebs { webs: [web(-30.0), web(30.0)], hub };
    let two = Section::build(&survey, State::Cut, &uniform()).unwrap();
    assert_eq!(two.outline.loops.len(), 2);
    assert!(two.outline.sharp_corners(0.02).is_empty(), "{:?}", two.outline.sharp_corners(0.02));
    survey.wheel = Wheel::SolidDisc { bore_radius_mm: 50.0 };
    survey.walls.underside = Underside::Solid;
    let solid = Section::build(&survey, State::Cut, &uniform()).unwrap();
    assert!(solid.walls.iter().all(|w| w.solid));
    let mut survey = one_web();
    survey.wheel = Wheel::BoltedRim {
        flange: Flange {
            place_mm: 5.0,
            thickness_mm: 22.0,
            rim_fillet_mm: 8.0,
            inner_radius_mm: 210.0,
            seating_radius_mm: 250.0,
            seating_side: Side::LastGroove,
        },
    };
    let bolted = Section::build(&survey, State::Now, &uniform()).unwrap();
    assert_eq!(bolted.support, tags::BOLTED_FACE);
    assert!(bolted.fence_radius_mm > 250.0);
}

#[test]
fn a_cut_that_leaves_no_wall_is_refused() {
    let mut survey = one_web();
    survey.walls.underside = Underside::Draft { draft_rad: 0.0, wall_mm: 5.0, at_groove: 3 };
    let faults = Section::build(&survey, State::Cut, &uniform()).unwrap_err();
    assert!(!faults.is_empty());
}

#[test]
fn a_worn_groove_wider_than_the_finished_one_is_not_cleaned_up() {
    let mut survey = one_web();
    if let GrooveShape::Undercut { seat_radius_mm, .. } = &mut survey.grooves.now[3] {
        *seat_radius_mm = 8.2;
    }
    let now = Section::build(&survey, State::Now, &uniform()).unwrap();
    let cut = Section::build(&survey, State::Cut, &uniform()).unwrap();
    let unclean = cut.unclean(&now, 0.05);
    assert_eq!(unclean.iter().map(|u| u.groove).collect::<Vec<_>>(), vec![4], "{unclean:?}");
}
