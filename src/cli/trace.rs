//! Where the time went: spans of the computation, summed stage by stage, and the steps of a check on the clock.
//!
//! Owns the collecting and the tables. The stages themselves stand in the rooms that do the work, as spans
//! of the `tracing` library; without `--trace` nobody listens to them and they cost nothing.

use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};
use tracing::span::{Attributes, Id};
use tracing::{Metadata, Subscriber};
use tracing_subscriber::layer::{Context, Layer, SubscriberExt};
use tracing_subscriber::registry::LookupSpan;

/// What one stage took, over all threads.
#[derive(Debug, Clone, Copy)]
struct Stage {
    name: &'static str,
    count: usize,
    time: Duration,
}

/// Sums of all stages, in the order of their first beginning, and the steps that follow each other.
#[derive(Clone, Default)]
pub(crate) struct Stages {
    list: Arc<Mutex<Vec<Stage>>>,
    steps: Arc<Mutex<Vec<(String, Instant)>>>,
}

/// Time within a span that belongs to no span inside it.
struct Own {
    since: Instant,
    time: Duration,
}

impl Stages {
    /// Starts to listen. Called once, before the work.
    pub fn listen() -> (Self, Instant) {
        let stages = Self::default();
        let subscriber = tracing_subscriber::registry().with(stages.clone());
        // Only tests within one process could have set another listener.
        let _ = tracing::subscriber::set_global_default(subscriber);
        (stages, Instant::now())
    }

    /// A step begins, and the one before it ends.
    pub fn step(&self, doing: &str) {
        if let Ok(mut steps) = self.steps.lock() {
            steps.push((doing.to_owned(), Instant::now()));
        }
    }

    /// One line per stage: time of all threads together, its share, how often; then every step on the clock.
    pub fn table(&self, begun: Instant) -> String {
        let end = Instant::now();
        let list = self.list.lock().map(|list| list.clone()).unwrap_or_default();
        let total: Duration = list.iter().map(|stage| stage.time).sum();
        let share = |time: Duration| 100.0 * time.as_secs_f64() / total.as_secs_f64().max(1e-9);
        let mut text = String::from("Time per stage, all threads together:\n");
        for Stage { name, count, time } in list.iter().filter(|stage| stage.count > 0) {
            let (ms, times) = (1e3 * time.as_secs_f64(), if *count == 1 { "once" } else { "times" });
            let count = if *count == 1 { String::new() } else { count.to_string() };
            text.push_str(&format!("  {name:<46}{ms:>9.1} ms {:>5.1} %  {count:>5} {times}\n", share(*time)));
        }
        let ms = |time: Duration| 1e3 * time.as_secs_f64();
        text.push_str(&format!("  {:<46}{:>9.1} ms\nSteps, on the clock:\n", "sum", ms(total)));
        let steps = self.steps.lock().map(|steps| steps.clone()).unwrap_or_default();
        for (index, (doing, since)) in steps.iter().enumerate() {
            let until = steps.get(index + 1).map_or(end, |next| next.1);
            text.push_str(&format!("  {doing:<72}{:>9.1} ms\n", ms(until - *since)));
        }
        text.push_str(&format!("  {:<72}{:>9.1} ms\n", "all", ms(end - begun)));
        text
    }

    fn add(&self, name: &'static str, count: usize, time: Duration) {
        if let Ok(mut list) = self.list.lock() {
            match list.iter_mut().find(|stage| stage.name == name) {
                Some(stage) => {
                    stage.count += count;
                    stage.time += time;
                }
                None => list.push(Stage { name, count, time }),
            }
        }
    }
}

impl<S: Subscriber + for<'a> LookupSpan<'a>> Layer<S> for Stages {
    fn enabled(&self, metadata: &Metadata<'_>, _: Context<'_, S>) -> bool {
        metadata.is_span() && metadata.target().starts_with(env!("CARGO_CRATE_NAME"))
    }

    fn on_new_span(&self, _: &Attributes<'_>, id: &Id, context: Context<'_, S>) {
        if let Some(span) = context.span(id) {
            self.add(span.name(), 0, Duration::ZERO);
            span.extensions_mut().insert(Own { since: Instant::now(), time: Duration::ZERO });
        }
    }

    fn on_enter(&self, id: &Id, context: Context<'_, S>) {
        let now = Instant::now();
        let Some(span) = context.span(id) else { return };
        if let Some(outer) = span.parent()
            && let Some(own) = outer.extensions_mut().get_mut::<Own>()
        {
            own.time += now - own.since;
        }
        if let Some(own) = span.extensions_mut().get_mut::<Own>() {
            own.since = now;
        }
    }

    fn on_exit(&self, id: &Id, context: Context<'_, S>) {
        let now = Instant::now();
        let Some(span) = context.span(id) else { return };
        let mut time = Duration::ZERO;
        if let Some(own) = span.extensions_mut().get_mut::<Own>() {
            time = own.time + (now - own.since);
        }
        self.add(span.name(), 1, time);
        if let Some(outer) = span.parent()
            && let Some(own) = outer.extensions_mut().get_mut::<Own>()
        {
            own.since = now;
        }
    }
}
