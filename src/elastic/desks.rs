//! Harmonics shared out among the threads: groups of them, the memory that each thread works with, and how many
//! threads there is memory for.

use super::ElasticFault;
use super::assembly::Assembled;
use super::lanes::{Bundle, fitting};
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

impl Desk {
    /// How many harmonics are factored together; `None` when they go one by one.
    pub fn lanes(pattern: &Pattern) -> Option<usize> {
        pattern.structure().and_then(|structure| fitting(structure, MOST_BYTES))
    }

    /// For every thread that there is memory for; with `few` harmonics these go one by one.
    pub fn all(assembled: &Assembled, pattern: &Pattern, sides: usize, few: bool) -> Vec<Self> {
        // Inside a parallel loop every thread has an analysis of its own already.
        let shared = rayon::current_thread_index().is_none();
        let threads = if shared { rayon::current_num_threads() } else { 1 };
        let several = pattern.structure().zip(Self::lanes(pattern)).filter(|_| !few);
        let room = several.map_or(threads, |(s, lanes)| MOST_TOGETHER / Bundle::bytes(s, lanes).max(1));
        let desk = |_| Self {
            workspace: Workspace::new(assembled, pattern, sides),
            bundle: several.map(|(structure, lanes)| Bundle::new(structure, lanes)),
        };
        (0..threads.min(room.max(1))).map(desk).collect()
    }
}

/// Does the groups' work at all desks; the outcomes come in no particular order.
///
/// # Errors
/// The first of the work's.
pub(super) fn shared_out<T: Send>(
    groups: &[Vec<usize>],
    desks: &mut [Desk],
    work: impl Fn(&[usize], &mut Desk) -> Result<Vec<T>, ElasticFault> + Sync,
) -> Result<Vec<T>, ElasticFault> {
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<Result<Vec<T>, ElasticFault>>> = Mutex::new(Vec::new());
    desks.par_iter_mut().for_each(|desk| {
        while let Some(group) = groups.get(next.fetch_add(1, Ordering::Relaxed)) {
            let outcomes = work(group, desk);
            if let Ok(mut list) = done.lock() {
                list.push(outcomes);
            }
        }
    });
    let list = done.into_inner().unwrap_or_default();
    Ok(list.into_iter().collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
}

/// Harmonics below `together` by themselves, because they hold other unknowns, and the rest in groups of `size`.
pub(super) fn groups(from: usize, to: usize, together: usize, size: usize) -> Vec<Vec<usize>> {
    let all: Vec<usize> = (from..=to).collect();
    let (alone, rest) = all.split_at(all.iter().take_while(|n| **n < together).count());
    rest.chunks(size).map(<[usize]>::to_vec).chain(alone.iter().map(|n| vec![*n])).collect()
}
