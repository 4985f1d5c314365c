//! Constrained Delaunay triangulation, refined to the size field and to a smallest angle.

use super::MeshFault;
use super::boundary::Sample;
use super::sizing::{Field, Sizing};
use crate::geometry::{Outline, Point};
use spade::handles::FixedVertexHandle;
use spade::{
    AngleLimit, ConstrainedDelaunayTriangulation, HasPosition, Point2, PositionInTriangulation,
    RefinementParameters, Triangulation,
};
use std::collections::HashMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Smallest angle asked of the refinement (degrees): above about 33 it adds far too many points.
const REFINED_ANGLE_DEG: f64 = 30.0;

/// Straight triangles and the outline's place of every boundary vertex.
pub(super) struct Flat {
    pub points: Vec<Point>,
    pub triangles: Vec<[usize; 3]>,
    /// For each loop its vertices in order, with edge and share; a corner belongs to the edge it starts.
    pub rings: Vec<Vec<(usize, Sample)>>,
}

#[derive(Debug, Clone, Copy)]
struct Vertex(Point2<f64>);

impl HasPosition for Vertex {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.0
    }
}

impl From<Point2<f64>> for Vertex {
    fn from(p: Point2<f64>) -> Self {
        Self(p)
    }
}

type Cdt = ConstrainedDelaunayTriangulation<Vertex>;

pub(super) fn triangulate(
    outline: &Outline,
    loops: Vec<Vec<Sample>>,
    field: &Field,
    sizing: &Sizing,
) -> Result<Flat, MeshFault> {
    let crowded = MeshFault::Triangulation { at: loops[0][0].at };
    // The library asserts its own invariants; a broken one must become a message, not a crash.
    let built = catch_unwind(AssertUnwindSafe(|| build(outline, &loops, field, sizing)));
    built.map_err(|_| crowded)?
}

fn build(
    outline: &Outline,
    loops: &[Vec<Sample>],
    field: &Field,
    sizing: &Sizing,
) -> Result<Flat, MeshFault> {
    let mut cdt = Cdt::new();
    let mut handles: Vec<Vec<FixedVertexHandle>> = Vec::new();
    for samples in loops {
        let mut ring = Vec::new();
        for sample in samples {
            let handle = cdt
                .insert(Vertex(Point2::new(sample.at.r, sample.at.z)))
                .map_err(|_| MeshFault::Triangulation { at: sample.at })?;
            ring.push(handle);
        }
        handles.push(ring);
    }
    for (ring, samples) in handles.iter().zip(loops) {
        for i in 0..ring.len() {
            let next = (i + 1) % ring.len();
            if ring[i] == ring[next] || !cdt.can_add_constraint(ring[i], ring[next]) {
                return Err(MeshFault::Triangulation { at: samples[i].at });
            }
            cdt.add_constraint(ring[i], ring[next]);
        }
    }
    refine(&mut cdt, 20.0, sizing)?;
    for _ in 0..10 {
        if insert_centres(&mut cdt, &handles, field, sizing)? == 0 {
            break;
        }
    }
    refine(&mut cdt, REFINED_ANGLE_DEG, sizing)?;
    extract(outline, &cdt, &handles, loops)
}

fn refine(cdt: &mut Cdt, angle_deg: f64, sizing: &Sizing) -> Result<(), MeshFault> {
    let parameters = RefinementParameters::<f64>::new()
        .with_angle_limit(AngleLimit::from_deg(angle_deg))
        .exclude_outer_faces(true)
        .with_max_additional_vertices(sizing.most_triangles / 2);
    let done = cdt.refine(parameters).refinement_complete;
    if done { Ok(()) } else { Err(MeshFault::TooLarge { limit: sizing.most_triangles }) }
}

/// Puts a vertex into the circumcentre of every inside triangle that is too large; returns how many.
fn insert_centres(
    cdt: &mut Cdt,
    handles: &[Vec<FixedVertexHandle>],
    field: &Field,
    sizing: &Sizing,
) -> Result<usize, MeshFault> {
    let inside = inside_faces(cdt, handles);
    let mut wanted: Vec<(f64, Point2<f64>, Point2<f64>, f64)> = Vec::new();
    for face in cdt.inner_faces() {
        if !inside[face.fix().index()] {
            continue;
        }
        let (centre, radius_2) = face.circumcircle();
        let middle = face.center();
        let size = field.at(Point::new(middle.x, middle.y));
        let excess = 3f64.sqrt() * radius_2.sqrt() / size;
        if excess > 1.35 {
            wanted.push((excess, centre, middle, size));
        }
    }
    wanted.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut inserted = 0;
    for (_, centre, middle, size) in wanted {
        if !has_room(cdt, centre, 0.65 * size) || cdt.intersects_constraint(middle, centre) {
            continue;
        }
        cdt.insert(Vertex(centre))
            .map_err(|_| MeshFault::Triangulation { at: Point::new(centre.x, centre.y) })?;
        inserted += 1;
    }
    if cdt.num_inner_faces() > 2 * sizing.most_triangles {
        return Err(MeshFault::TooLarge { limit: sizing.most_triangles });
    }
    Ok(inserted)
}

/// Whether a new vertex at `p` keeps its distance from all others and forces no flat triangle on the outline.
fn has_room(cdt: &Cdt, p: Point2<f64>, distance: f64) -> bool {
    let PositionInTriangulation::OnFace(face) = cdt.locate(p) else { return false };
    cdt.face(face).adjacent_edges().iter().all(|edge| {
        let [a, b] = edge.positions();
        let across = edge.rev().opposite_position();
        let dot = (a.x - p.x) * (b.x - p.x) + (a.y - p.y) * (b.y - p.y);
        let near = |q: Point2<f64>| q.distance_2(p) < distance * distance;
        !(near(a) || across.is_some_and(near) || edge.is_constraint_edge() && dot < 0.0)
    })
}

/// For every inner face whether it lies in the body: flooded from the left of the outline's edges.
fn inside_faces(cdt: &Cdt, handles: &[Vec<FixedVertexHandle>]) -> Vec<bool> {
    let mut inside = vec![false; cdt.num_all_faces()];
    let mut open = Vec::new();
    for ring in walk(cdt, handles) {
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if let Some(edge) = cdt.get_edge_from_neighbors(a, b)
                && let Some(face) = edge.face().as_inner()
            {
                open.push(face.fix());
            }
        }
    }
    while let Some(face) = open.pop() {
        if std::mem::replace(&mut inside[face.index()], true) {
            continue;
        }
        for edge in cdt.face(face).adjacent_edges() {
            if !edge.is_constraint_edge()
                && let Some(next) = edge.rev().face().as_inner()
            {
                open.push(next.fix());
            }
        }
    }
    inside
}

/// Vertices of each loop in order, the ones that refinement put on the chords included.
fn walk(cdt: &Cdt, handles: &[Vec<FixedVertexHandle>]) -> Vec<Vec<FixedVertexHandle>> {
    let step = |at: FixedVertexHandle, towards: FixedVertexHandle| {
        let (p, goal) = (cdt.vertex(at).position(), cdt.vertex(towards).position());
        let (gx, gy) = (goal.x - p.x, goal.y - p.y);
        cdt.vertex(at)
            .out_edges()
            .filter(|edge| edge.is_constraint_edge())
            .map(|edge| {
                let q = edge.to().position();
                let (x, y) = (q.x - p.x, q.y - p.y);
                ((gx * x + gy * y) / x.hypot(y), edge.to().fix())
            })
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, to)| to)
    };
    let mut rings = Vec::new();
    for ring in handles {
        let mut walked = Vec::new();
        for i in 0..ring.len() {
            let goal = ring[(i + 1) % ring.len()];
            let mut at = ring[i];
            while at != goal {
                walked.push(at);
                match step(at, goal) {
                    Some(next) => at = next,
                    None => break,
                }
            }
        }
        rings.push(walked);
    }
    rings
}

fn extract(
    outline: &Outline,
    cdt: &Cdt,
    handles: &[Vec<FixedVertexHandle>],
    loops: &[Vec<Sample>],
) -> Result<Flat, MeshFault> {
    let inside = inside_faces(cdt, handles);
    let mut number: HashMap<FixedVertexHandle, usize> = HashMap::new();
    let mut points = Vec::new();
    let mut triangles = Vec::new();
    for face in cdt.inner_faces().filter(|face| inside[face.fix().index()]) {
        triangles.push(face.vertices().map(|vertex| {
            *number.entry(vertex.fix()).or_insert_with(|| {
                let p = vertex.position();
                points.push(Point::new(p.x, p.y));
                points.len() - 1
            })
        }));
    }
    let mut rings = Vec::new();
    for ((ring, samples), walked) in handles.iter().zip(loops).zip(walk(cdt, handles)) {
        let mut numbered = Vec::new();
        let mut piece = 0;
        for handle in walked {
            if ring.get(piece + 1) == Some(&handle) {
                piece += 1;
            }
            let mut sample = samples[piece];
            if handle != ring[piece] {
                // A point on a chord belongs on the curve that the chord stands for.
                let edge = &outline.loops[sample.loop_no][sample.edge_no];
                let p = cdt.vertex(handle).position();
                sample.share = edge.nearest(Point::new(p.x, p.y));
                sample.at = edge.at(sample.share);
            }
            let index = *number.get(&handle).ok_or(MeshFault::Triangulation { at: sample.at })?;
            points[index] = sample.at;
            numbered.push((index, sample));
        }
        rings.push(numbered);
    }
    Ok(Flat { points, triangles, rings })
}
