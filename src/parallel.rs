//! Work spread over threads, with results in the order of what was asked.
//!
//! In: items and a function of one of them. Out: its results, item by item. Which thread does what
//! is left to chance; the results and their order are not, so that outputs do not depend on it.

use std::num::NonZeroUsize;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Most threads, 0 for as many as the machine offers.
static MOST: AtomicUsize = AtomicUsize::new(0);

/// Sets how many threads are used at most; `None` for as many as the machine offers.
pub fn limit(threads: Option<NonZeroUsize>) {
    MOST.store(threads.map_or(0, NonZeroUsize::get), Ordering::Relaxed);
}

/// What `work` gives for each item, in order.
///
/// A panic of one goes on to the caller.
pub fn map<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let most = match MOST.load(Ordering::Relaxed) {
        0 => thread::available_parallelism().map_or(1, usize::from),
        most => most,
    };
    let threads = most.min(items.len());
    if threads <= 1 {
        return items.iter().map(work).collect();
    }
    let next = AtomicUsize::new(0);
    let share = || {
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(at) else {
                return done;
            };
            done.push((at, work(item)));
        }
    };
    let mut done: Vec<(usize, R)> = thread::scope(|scope| {
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(share)).collect();
        let ended = workers.into_iter().map(|worker| worker.join());
        ended
            .flat_map(|end| end.unwrap_or_else(|panic| resume_unwind(panic)))
            .collect()
    });
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order() {
        let items: Vec<u64> = (0..1000).collect();
        let squares: Vec<u64> = items.iter().map(|n| n * n).collect();
        assert_eq!(map(&items, |n| n * n), squares);
        assert!(map(&[] as &[u64], |n| *n).is_empty());
    }
}
