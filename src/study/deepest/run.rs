//! Where something holds along a line of values, found without trusting that it holds in one piece.

/// The first run of values, from the low side, in which something holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Run {
    pub from: f64,
    pub to: f64,
    /// False where the run begins with the first value that was looked at.
    pub begins: bool,
    /// False where the run goes on to the last value that was looked at.
    pub ends: bool,
}

/// Scans rising `grid` and narrows both ends of the first run by halving, to `tolerance`. Both ends hold.
///
/// # Errors
/// The first of `holds`.
pub(super) fn first_run<E>(
    grid: &[f64],
    tolerance: f64,
    mut holds: impl FnMut(f64) -> Result<bool, E>,
) -> Result<Option<Run>, E> {
    let mut first = None;
    let mut last = None;
    for (index, value) in grid.iter().enumerate() {
        match (holds(*value)?, first) {
            (true, None) => first = Some(index),
            (true, Some(_)) | (false, None) => {}
            (false, Some(_)) => {
                last = Some(index - 1);
                break;
            }
        }
    }
    let Some(first) = first else { return Ok(None) };
    let mut narrow = |mut inside: f64, mut outside: f64| -> Result<f64, E> {
        while (outside - inside).abs() > tolerance {
            let middle = f64::midpoint(inside, outside);
            if holds(middle)? { inside = middle } else { outside = middle }
        }
        Ok(inside)
    };
    let from = if first > 0 { narrow(grid[first], grid[first - 1])? } else { grid[0] };
    let to = match last {
        Some(last) => narrow(grid[last], grid[last + 1])?,
        None => grid[grid.len() - 1],
    };
    Ok(Some(Run { from, to, begins: first > 0, ends: last.is_some() }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(holds: impl Fn(f64) -> bool) -> Option<Run> {
        let grid: Vec<f64> = (0..=10).map(f64::from).collect();
        first_run(&grid, 1e-9, |x| Ok::<_, ()>(holds(x))).unwrap()
    }

    #[test]
    fn the_first_run_is_found_with_both_its_ends() {
        let found = run(|x| (1.5..=4.25).contains(&x) || x > 7.0).unwrap();
        assert!((found.from - 1.5).abs() < 1e-8 && (found.to - 4.25).abs() < 1e-8, "{found:?}");
        assert!(found.begins && found.ends && found.from >= 1.5 && found.to <= 4.25);
    }

    #[test]
    fn runs_at_the_ends_of_the_grid_are_told_from_limits() {
        let all = run(|_| true).unwrap();
        assert_eq!(all, Run { from: 0.0, to: 10.0, begins: false, ends: false });
        assert_eq!(run(|_| false), None);
        let point = run(|x| x <= 0.0).unwrap();
        assert!(point.ends && point.to.abs() < 1e-8);
    }
}
