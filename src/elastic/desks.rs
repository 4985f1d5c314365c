//! Harmonics shared out among the threads: groups of them, the memory that each thread works with, and how many
//! threads there is memory for.

use super::ElasticFault;
use super::assembly::Assembled;
use super::lanes::{Bundle, Structure, fitting};
use super::system::{Pattern, Workspace};
use rayon::prelude::*;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Most memory of one thread for the factors of several harmonics (bytes): beyond it fewer are taken together, and
/// at last one by one. It is the same for any number of threads, so that results do not depend on that.
const MOST_BYTES: usize = 2 << 30;
/// Most memory of all threads for them (bytes): beyond it some threads are left out, which changes no result.
const MOST_TOGETHER: usize = 8 << 30;

/// What one thread works with.
pub(super) struct Desk {
    pub workspace: Workspace,
    pub bundle: Option<Bundle>,
}

/// The desks of one analysis. A thread sits down at one of its own when it comes to help and leaves it when no group
/// is left, so that an analysis beside others takes no more memory than the threads that work at it.
pub(super) struct Desks<'a> {
    assembled: &'a Assembled,
    pattern: &'a Pattern,
    sides: usize,
    /// Harmonics that are factored together, where there are several.
    several: Option<(&'a Structure, usize)>,
    /// Threads that there is memory for.
    most: usize,
}

impl<'a> Desks<'a> {
    /// For `sides` right-hand sides; with `few` harmonics these go one by one.
    pub fn new(assembled: &'a Assembled, pattern: &'a Pattern, sides: usize, few: bool) -> Self {
        let structure = pattern.structure().filter(|_| !few);
        let several = structure.and_then(|s| Some((s, fitting(s, MOST_BYTES)?)));
        let threads = rayon::current_num_threads();
        let room = several.map_or(threads, |(s, lanes)| MOST_TOGETHER / Bundle::bytes(s, lanes).max(1));
        Self { assembled, pattern, sides, several, most: threads.min(room.max(1)) }
    }

    /// How many harmonics are factored together.
    pub fn lanes(&self) -> usize {
        self.several.map_or(1, |(_, lanes)| lanes)
    }

    fn desk(&self) -> Desk {
        Desk {
            workspace: Workspace::new(self.assembled, self.pattern, self.sides),
            bundle: self.several.map(|(structure, lanes)| Bundle::new(structure, lanes)),
        }
    }

    /// Does the groups' work; the outcomes come in no particular order.
    ///
    /// # Errors
    /// The first of the work's.
    pub fn share_out<T: Send>(
        &self,
        groups: &[Vec<usize>],
        work: impl Fn(&[usize], &mut Desk) -> Result<Vec<T>, ElasticFault> + Sync,
    ) -> Result<Vec<T>, ElasticFault> {
        let next = AtomicUsize::new(0);
        let done: Mutex<Vec<Result<Vec<T>, ElasticFault>>> = Mutex::new(Vec::new());
        (0..self.most.min(groups.len())).into_par_iter().with_max_len(1).for_each(|_| {
            let mut desk = None;
            while let Some(group) = groups.get(next.fetch_add(1, Ordering::Relaxed)) {
                let outcomes = work(group, desk.get_or_insert_with(|| self.desk()));
                if let Ok(mut list) = done.lock() {
                    list.push(outcomes);
                }
            }
        });
        let list = done.into_inner().unwrap_or_default();
        Ok(list.into_iter().collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
    }
}

/// Harmonics below `together` by themselves, because they hold other unknowns, and the rest in groups of `size`.
pub(super) fn groups(from: usize, to: usize, together: usize, size: usize) -> Vec<Vec<usize>> {
    let all: Vec<usize> = (from..=to).collect();
    let (alone, rest) = all.split_at(all.iter().take_while(|n| **n < together).count());
    rest.chunks(size).map(<[usize]>::to_vec).chain(alone.iter().map(|n| vec![*n])).collect()
}
