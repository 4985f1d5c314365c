//! Where the program stops being right: each limit with numbers that the program computes itself.
//!
//! These are no comparisons with outside answers; nothing here can hold or miss.

use super::cases::shapes::{body, hold, iron, load};
use super::{Bench, CaseFault};
use crate::elastic::{Around, Iron, Law, Model, Options, Pattern, PeakSearch, Region, Solution};
use crate::geometry::{Edge, Point};
use crate::material::gray_iron::{ASSUMED_CLASS, class_tensile_mpa, typical};
use crate::mesh::Mesh;
use crate::reference::corner::{growth_per_halving, symmetric_exponent};
use crate::survey::{Files, read};
use std::path::Path;

/// One known limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    pub title: &'static str,
    /// Whole sentences, numbers filled in.
    pub sentences: Vec<String>,
}

/// The known limits, with the numbers that show them.
///
/// # Errors
/// When one of the small analyses behind them fails.
pub fn limits() -> Result<Vec<Limit>, CaseFault> {
    Ok(vec![
        sharp_corners(),
        contact()?,
        modulus()?,
        Limit {
            title: "Walls that vary around the wheel",
            sentences: vec![
                "The thinnest section is taken all the way round. What this leaves out is shown by a full \
                 three-dimensional analysis of a wheel with a shifted core, in INDEPENDENT.md beside this page."
                    .to_owned(),
            ],
        },
        arms(),
        Limit {
            title: "Ends of a rope's wrap",
            sentences: vec![
                "Where a load jumps around the body the truncated series rings. The program spreads the jump of a \
                 rope's pressure over one rope diameter, or leaves the loaded edge beside the jump out of its \
                 search, and says which; how a real rope leaves the groove is not modelled. See the cases \
                 half-wrap-disc and half-wrap-truncation."
                    .to_owned(),
            ],
        },
        Limit {
            title: "Fatigue and cracks",
            sentences: vec![
                "Of fatigue there is a factor on the endurance limit of machined bars of gray iron at one to ten \
                 million turns, at the nodes of the mesh (cases rotating-bending, pulsing-ring and worst-plane). What \
                 the skin and the thickness of a casting take away, and what more turns do, is not in it."
                    .to_owned(),
                "A crack that is there is not known of, nor is its growth. The depths told are of one straight \
                 surface crack in a wall of even thickness (case crack-in-a-wall), and end where the published \
                 solutions end."
                    .to_owned(),
            ],
        },
        Limit {
            title: "What is not modelled at all",
            sentences: vec![
                "Stresses locked in by casting or by the fit on the shaft, bolts, porosity, chill and repairs; the hub with its fillets; the weight of the wheel; shocks beyond the multiple that the \
                 engineer states. Of a double wrap: bearing friction of the secondary sheave, rope stored on the arcs, the ropes' own weight along the travel, deepest cuts, groove shapes and doubt."
                    .to_owned(),
            ],
        },
    ])
}

fn sharp_corners() -> Limit {
    let mut sentences = vec![
        "At a re-entrant corner without a radius linear elasticity has no finite stress: what a mesh shows grows \
         with every halving of its elements and means nothing. The program leaves such places out of its search, \
         names each with the distance left out, and wants a radius (case sharp-corner)."
            .to_owned(),
    ];
    for degrees in [225.0f64, 270.0, 315.0] {
        let angle = degrees.to_radians();
        sentences.push(format!(
            "Corner of {degrees:.0}° inside the iron: stress grows as distance^{:.4}, by a factor of {:.3} per halving.",
            symmetric_exponent(angle) - 1.0,
            growth_per_halving(angle)
        ));
    }
    sentences.push(
        "Ends of a held face are of the same kind and are left out in the same way; hubs are fenced off."
            .to_owned(),
    );
    Limit { title: "Sharp corners and ends of held faces", sentences }
}

/// The grooved ring of the examples: rim edge, underside and seat radius (mm).
const EDGE: f64 = 250.0;
const UNDERSIDE: f64 = 230.0;
const SEAT: f64 = 6.5;

/// A thin ring with one round groove, its two sides guided.
fn grooved(law: Law, material: Iron) -> Model {
    let p = Point::new;
    let (radius, edge, low) = (SEAT, EDGE, UNDERSIDE);
    let edges = vec![
        (Edge::line(p(low, -20.0), p(edge, -20.0), 0), "side"),
        (Edge::line(p(edge, -20.0), p(edge, -radius), 0), "land"),
        (Edge::arc(p(edge, -radius), p(edge, 0.0), -std::f64::consts::PI, 0), "seat"),
        (Edge::line(p(edge, radius), p(edge, 20.0), 0), "land"),
        (Edge::line(p(edge, 20.0), p(low, 20.0), 0), "side"),
        (Edge::line(p(low, 20.0), p(low, -20.0), 0), "underside"),
    ];
    let mut model = body("grooved ring", edges, material, 4.0);
    hold(&mut model, "side", false, true, true);
    let pattern = Pattern::Bearing { tags: vec!["seat".to_owned()], law };
    // A rope over two opposite sixths of the circumference, so that nothing has to hold the ring sideways.
    for middle in [0.0, std::f64::consts::PI] {
        let around = Around::Arc { from: middle - 0.52, to: middle + 0.52 };
        load(&mut model, pattern.clone(), around);
    }
    model
}

fn highest(model: Model) -> Result<f64, CaseFault> {
    let region = |model: &Model, mesh: &Mesh| Region::of(model, mesh, 48);
    let bench = Bench::with(model, 1, &Options::default(), region)?;
    let solution: &Solution = bench.finest();
    let searched = region(&bench.model, &solution.mesh);
    let search = PeakSearch::new(&solution.mesh, &solution.cases[0], &searched);
    let [ranking] = search.rankings(&[&|p: &[f64; 3]| p[0]]);
    ranking.first().map(|hit| hit.score).ok_or_else(|| CaseFault::of("nothing was searched"))
}

fn contact() -> Result<Limit, CaseFault> {
    let cosine = Law::Cosine { centre: Point::new(EDGE, 0.0) };
    let wall = EDGE - SEAT - UNDERSIDE;
    let (by_law, even) =
        (highest(grooved(cosine, iron(110e3, 0.26)))?, highest(grooved(Law::Uniform, iron(110e3, 0.26)))?);
    Ok(Limit {
        title: "Contact of the rope",
        sentences: vec![
            "Strands and wires are smeared out: a rope presses by the cosine law on a seat and evenly on the bands \
             of a V. Stress beside a single wire is not found, and a worn rope in a new groove presses on less than \
             its law says."
                .to_owned(),
            format!(
                "How much the law matters: in a grooved ring with a wall of {wall:.1} mm the highest tension by the \
                 cosine law differs by {:+.1} % from the one of an even pressure with the same force.",
                100.0 * (by_law / even - 1.0)
            ),
        ],
    })
}

fn modulus() -> Result<Limit, CaseFault> {
    let class = ASSUMED_CLASS;
    let tensile = class_tensile_mpa(class).map_err(CaseFault::of)?;
    let (low, high) = typical(tensile).young_mpa;
    let of = |young, nu| highest(grooved(Law::Uniform, iron(young, nu)));
    let (soft, stiff, other) = (of(low, 0.26)?, of(high, 0.26)?, of(low, 0.30)?);
    Ok(Limit {
        title: "Linear elasticity of gray iron",
        sentences: vec![
            "Gray iron is not linear: its modulus falls as the stress rises, and it is stiffer in compression than in \
             tension. At a tenth of its strength, where the code's factor keeps it, the difference is small; beyond \
             that the program's stresses are those of an ideal material."
                .to_owned(),
            format!(
                "The modulus itself moves displacements, not stresses: between {:.0} and {:.0} GPa (class {class}) the \
                 highest tension of a grooved ring under given forces changes by less than {:.0e} of itself.",
                low / 1e3,
                high / 1e3,
                (stiff / soft - 1.0).abs().max(1e-9) * 1.000_001
            ),
            format!("Poisson's ratio 0.30 in place of 0.26 changes it by {:+.1} %.", 100.0 * (other / soft - 1.0)),
        ],
    })
}

struct NoFiles;

impl Files for NoFiles {
    fn read(&self, _: &Path) -> std::io::Result<Vec<u8>> {
        Err(std::io::ErrorKind::NotFound.into())
    }
}

fn arms() -> Limit {
    // What the program answers is asked from the program.
    let survey = "survey = 1\n[wheel]\nkind = \"arms\"\n";
    let reading = read(survey.as_bytes(), Path::new("arms.toml"), &NoFiles);
    let answer = reading.diagnostics.render(crate::diagnostics::Look::Plain);
    let refusal = answer.lines().find(|line| line.contains("wheel with arms")).unwrap_or("").to_owned();
    Limit {
        title: "Wheels with arms",
        sentences: vec![
            "A wheel with arms is no body of revolution: between the arms the rim bends as a beam, and under half a \
             wrap much more than under a load all round. It is refused, not approximated."
                .to_owned(),
            format!("The program's answer to such a survey: \"{}\"", refusal.trim()),
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limits_are_computed_and_say_something() {
        let limits = limits().unwrap();
        assert!(limits.len() >= 5);
        let text = |title: &str| {
            let limit = limits.iter().find(|limit| limit.title.contains(title)).unwrap();
            limit.sentences.join(" ")
        };
        assert!(text("arms").contains("is not covered yet"), "{}", text("arms"));
        assert!(text("Sharp").contains("1.371"), "{}", text("Sharp"));
        assert!(text("Linear").contains("1e-9"), "{}", text("Linear"));
        println!("{limits:#?}");
    }
}
