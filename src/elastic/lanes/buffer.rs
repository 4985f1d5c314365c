//! Memory in whole cache lines, handed from one analysis to the next.

use std::ops::{Deref, DerefMut};
use std::sync::Mutex;

/// Bytes and numbers of a cache line.
const LINE_BYTES: usize = 64;
const LINE: usize = LINE_BYTES / size_of::<f64>();

/// Numbers that start on a cache line: a register's load must not straddle two.
#[derive(Default)]
pub(in crate::elastic) struct Buffer {
    /// Grows, and never shrinks; a line longer than its room. Fresh memory comes as zeros from the system and is not
    /// written before it is used.
    memory: Vec<f64>,
    /// Numbers before the first whole line.
    start: usize,
    length: usize,
}

impl Deref for Buffer {
    type Target = [f64];

    fn deref(&self) -> &[f64] {
        &self.memory[self.start..][..self.length]
    }
}

impl DerefMut for Buffer {
    fn deref_mut(&mut self) -> &mut [f64] {
        &mut self.memory[self.start..][..self.length]
    }
}

impl Buffer {
    /// Numbers that it can hold without growing.
    pub fn room(&self) -> usize {
        self.memory.len().saturating_sub(LINE)
    }

    /// This many numbers; what they are is left over from before.
    pub fn sized(&mut self, length: usize) -> &mut [f64] {
        if self.room() < length {
            // Nothing that was in it is asked for: fresh memory needs no copy. Room to spare costs nothing until it
            // is used, and the next, slightly larger analysis finds it.
            self.memory = Vec::new();
            self.memory = vec![0.0; length.next_power_of_two() + LINE];
            let start = self.memory.as_ptr().align_offset(LINE_BYTES);
            // Where alignment cannot be told the first number serves: right, and only slower.
            self.start = if start < LINE { start } else { 0 };
        }
        self.length = length;
        self
    }

    /// This many zeros.
    pub fn cleared(&mut self, length: usize) -> &mut [f64] {
        self.sized(length).fill(0.0);
        self
    }
}

/// What one group of harmonics leaves to the next. Everything is laid out row by row (or node by node), then side
/// by side, then lane by lane.
#[derive(Default)]
pub(in crate::elastic) struct Scratch {
    /// Entries of the factor.
    pub values: Buffer,
    /// Right-hand sides, then solutions.
    pub right: Buffer,
    pub force: Buffer,
    pub product: Buffer,
    /// One case's displacements and products, where they are combined from those of several patterns.
    pub own: [Buffer; 2],
    /// Stress at the sampling points and at the nodes: point, component, family, lane.
    pub samples: Buffer,
    pub nodal: Buffer,
    /// For the updates that supernodes hand up.
    pub spare: Vec<Buffer>,
}

/// Analyses follow each other, and fresh memory of this size costs more than its use.
static SHELF: Mutex<Vec<Scratch>> = Mutex::new(Vec::new());
/// Most that is kept.
const KEPT: usize = 8;

/// Memory of an earlier analysis, where there is some.
pub(super) fn lend() -> Scratch {
    SHELF.lock().ok().and_then(|mut shelf| shelf.pop()).unwrap_or_default()
}

pub(super) fn put_back(scratch: Scratch) {
    if let Ok(mut shelf) = SHELF.lock()
        && shelf.len() < KEPT
    {
        shelf.push(scratch);
    }
}
