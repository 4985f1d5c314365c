//! A measured line as a smooth chain of arcs, no further from the readings than their error.

use super::FilletFault;
use super::{Edge, Point, round_corner};

/// Turning angle above which a vertex counts as a true corner, not as part of a curve (rad).
const CORNER: f64 = 0.7;

/// Drops points that lie within `tolerance` (mm) of the line through the kept ones (Douglas & Peucker 1973).
pub fn simplify(points: &[Point], tolerance: f64) -> Vec<Point> {
    if points.len() < 3 {
        return points.to_vec();
    }
    let mut kept = vec![false; points.len()];
    let last = points.len() - 1;
    kept[0] = true;
    kept[last] = true;
    let mut spans = vec![(0, last)];
    while let Some((from, to)) = spans.pop() {
        let chord = Edge::line(points[from], points[to], 0);
        let far = (from + 1..to).map(|i| (i, chord.distance(points[i]))).max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((i, distance)) = far
            && distance > tolerance
        {
            kept[i] = true;
            spans.push((from, i));
            spans.push((i, to));
        }
    }
    points.iter().zip(kept).filter_map(|(p, keep)| keep.then_some(*p)).collect()
}

/// Chain of straight and circular edges through the measured `points`, smooth except at true corners.
///
/// Points within `error` (mm) of the line are smoothed away; re-entrant corners (body to the left) get
/// `corner_radius` (mm), because a corner without a radius has no finite elastic stress.
///
/// # Errors
/// When the radius does not fit into a corner.
pub fn fit_profile(
    points: &[Point],
    error: f64,
    corner_radius: f64,
    tag: usize,
) -> Result<Vec<Edge>, FilletFault> {
    let kept = simplify(points, error.max(1e-6));
    let mut chain: Vec<Edge> = Vec::new();
    for run in smooth_runs(&kept) {
        let mut edges = biarcs(run, tag);
        if let (Some(last), Some(first)) = (chain.last(), edges.first()) {
            let re_entrant = last.tangent(1.0).cross(first.tangent(0.0)) < 0.0;
            if re_entrant {
                round_corner(&mut chain, &mut edges, corner_radius, tag)?;
            }
        }
        chain.append(&mut edges);
    }
    Ok(chain)
}

/// The stretches between true corners; neighbours share their corner point.
fn smooth_runs(points: &[Point]) -> Vec<&[Point]> {
    let mut runs = Vec::new();
    let mut from = 0;
    for i in 1..points.len().saturating_sub(1) {
        let (coming, going) = (points[i] - points[i - 1], points[i + 1] - points[i]);
        if coming.cross(going).atan2(coming.dot(going)).abs() > CORNER {
            runs.push(&points[from..=i]);
            from = i;
        }
    }
    if points.len() >= 2 {
        runs.push(&points[from..]);
    }
    runs
}

/// Two arcs between each pair of points, tangent to each other and to their neighbours.
fn biarcs(points: &[Point], tag: usize) -> Vec<Edge> {
    if points.len() == 2 {
        return vec![Edge::line(points[0], points[1], tag)];
    }
    let tangents = tangents(points);
    let mut edges = Vec::new();
    for i in 0..points.len() - 1 {
        let (p, q, tp, tq) = (points[i], points[i + 1], tangents[i], tangents[i + 1]);
        // The joint of the two arcs, with equal tangent lengths (Bolton 1975, equal-length choice).
        let v = q - p;
        let t = tp + tq;
        let a = 2.0 * (1.0 - tp.dot(tq));
        let b = v.dot(t);
        let c = v.dot(v);
        let length = if a.abs() < 1e-9 { c / (2.0 * b) } else { ((b * b + a * c).sqrt() - b) / a };
        let joint = (p + tp * length + q - tq * length) * 0.5;
        let first = Edge::arc_from_tangent(p, tp, joint, tag);
        let second = Edge::arc_from_tangent(joint, first.tangent(1.0), q, tag);
        edges.push(first);
        edges.push(second);
    }
    edges
}

/// Tangents from the circle through each point and its neighbours; the ends continue their circle.
fn tangents(points: &[Point]) -> Vec<Point> {
    let n = points.len();
    let mut tangents: Vec<Point> = vec![Point::default(); n];
    for i in 1..n - 1 {
        let (u, v) = (points[i] - points[i - 1], points[i + 1] - points[i]);
        let weighted = u.direction() * v.norm() + v.direction() * u.norm();
        tangents[i] = weighted.direction();
    }
    let mirrored = |tangent: Point, chord: Point| {
        let along = chord.direction();
        (along * (2.0 * tangent.dot(along)) - tangent).direction()
    };
    tangents[0] = mirrored(tangents[1], points[1] - points[0]);
    tangents[n - 1] = mirrored(tangents[n - 2], points[n - 1] - points[n - 2]);
    tangents
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_on_a_circle_give_that_circle_back() {
        let centre = Point::new(300.0, 4.0);
        let points: Vec<Point> =
            (0..=30).map(|i| centre + Point::unit(-2.0 - 0.08 * f64::from(i)) * 6.5).collect();
        let chain = fit_profile(&points, 0.02, 0.5, 0).unwrap();
        for edge in &chain {
            assert!((edge.at(0.4).distance(centre) - 6.5).abs() < 0.03);
        }
        for pair in chain.windows(2) {
            assert!(pair[0].tangent(1.0).distance(pair[1].tangent(0.0)) < 1e-6);
        }
    }

    #[test]
    fn the_fitted_line_stays_within_the_reading_error() {
        let noisy = |i: i32| Point::new(200.0 + 0.02 * f64::from((i * 7) % 5 - 2), f64::from(i));
        let points: Vec<Point> = (0..40).map(noisy).collect();
        let chain = fit_profile(&points, 0.1, 0.5, 0).unwrap();
        assert!(chain.len() < 4);
        for p in points {
            let distance = chain.iter().map(|e| e.distance(p)).fold(f64::INFINITY, f64::min);
            assert!(distance <= 0.11, "{distance}");
        }
    }
}
