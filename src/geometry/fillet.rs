//! Rounding the corner between two chains of edges.

use super::intersect::{Carrier, carriers};
use super::{Edge, Point};
use thiserror::Error;

/// Why a corner could not be rounded.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("a radius of {radius:.3} mm does not fit into the corner at r {:.3}, z {:.3} mm", .at.r, .at.z)]
pub struct FilletFault {
    pub radius: f64,
    pub at: Point,
}

/// Joins the end of `before` to the start of `after` with an arc of `radius` (mm) tangent to both.
///
/// Edges too short to carry the tangent point are swallowed, so a corner of a finely measured line
/// can be rounded too. A corner that already runs smoothly, or a zero radius, is left as it is.
///
/// # Errors
/// When no arc of that radius touches both chains.
pub fn round_corner(
    before: &mut Vec<Edge>,
    after: &mut Vec<Edge>,
    radius: f64,
    tag: usize,
) -> Result<(), FilletFault> {
    let (Some(last), Some(first)) = (before.last(), after.first()) else {
        return Ok(());
    };
    let corner = last.end;
    let (coming, going) = (last.tangent(1.0), first.tangent(0.0));
    let turn = coming.cross(going).atan2(coming.dot(going));
    if radius <= 0.0 || turn.abs() < 1e-3 {
        return Ok(());
    }
    let side = turn.signum();
    let mut best: Option<(f64, usize, usize, Point)> = None;
    for (i, a) in before.iter().enumerate().rev() {
        for (j, b) in after.iter().enumerate() {
            let (Some(ca), Some(cb)) = (Carrier::offset(a, side * radius), Carrier::offset(b, side * radius))
            else {
                continue;
            };
            for centre in carriers(&ca, &cb) {
                let (ta, tb) = (a.nearest(centre), b.nearest(centre));
                let touches = |edge: &Edge, t: f64| {
                    let p = edge.at(t);
                    let arm = centre - p;
                    (arm.norm() - radius).abs() < 1e-7 * radius.max(1.0)
                        && arm.dot(edge.tangent(t)).abs() < 1e-6 * radius
                };
                let distance = centre.distance(corner);
                let kept = ta > 1e-9 && tb < 1.0 - 1e-9;
                if kept && touches(a, ta) && touches(b, tb) && best.is_none_or(|(d, ..)| distance < d) {
                    best = Some((distance, i, j, centre));
                }
            }
        }
    }
    let Some((_, i, j, centre)) = best else {
        return Err(FilletFault { radius, at: corner });
    };
    let (ta, tb) = (before[i].nearest(centre), after[j].nearest(centre));
    before.truncate(i + 1);
    before[i] = before[i].part(0.0, ta);
    after.drain(..j);
    after[0] = after[0].part(tb, 1.0);
    let arc = Edge::arc_between(before[i].end, after[0].start, centre, side > 0.0, tag);
    before.push(arc);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_right_corner_gets_a_quarter_circle() {
        let mut before = vec![Edge::line(Point::new(10.0, 0.0), Point::new(5.0, 0.0), 0)];
        let mut after = vec![Edge::line(Point::new(5.0, 0.0), Point::new(5.0, -8.0), 1)];
        round_corner(&mut before, &mut after, 2.0, 7).unwrap();
        let arc = before[1];
        assert!((arc.length() - std::f64::consts::PI).abs() < 1e-12);
        assert!(arc.tangent(0.0).distance(before[0].tangent(1.0)) < 1e-9);
        assert!(arc.tangent(1.0).distance(after[0].tangent(0.0)) < 1e-9);
        assert_eq!(arc.tag, 7);
    }

    #[test]
    fn short_edges_are_swallowed() {
        let p = |r: f64, z: f64| Point::new(r, z);
        let mut before =
            vec![Edge::line(p(10.0, 0.0), p(5.2, 0.0), 0), Edge::line(p(5.2, 0.0), p(5.0, -0.05), 0)];
        let mut after = vec![Edge::line(p(5.0, -0.05), p(5.0, -8.0), 1)];
        round_corner(&mut before, &mut after, 2.0, 7).unwrap();
        assert_eq!(before.len(), 2);
        assert!(before[1].end.distance(after[0].start) < 1e-12);
    }

    #[test]
    fn a_radius_that_cannot_fit_is_refused() {
        let mut before = vec![Edge::line(Point::new(6.0, 0.0), Point::new(5.0, 0.0), 0)];
        let mut after = vec![Edge::line(Point::new(5.0, 0.0), Point::new(5.0, -8.0), 1)];
        assert!(round_corner(&mut before, &mut after, 2.0, 7).is_err());
    }
}
