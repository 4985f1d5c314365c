//! Every deliberate fault makes the case that is named for it miss; without a fault all of them hold.
//!
//! Runs with the feature `seeded-faults` alone; a program for use cannot be built with it.

use rimproof::manual::{CAUGHT_BY, Entry, catalogue, run};
use rimproof::seeded::{Fault, plant};

fn entry(name: &str) -> Entry {
    let case = catalogue().into_iter().find(|case| case.name == name);
    run(case.unwrap_or_else(|| panic!("no case '{name}' in the manual")))
}

/// One test, because the planted fault is the whole process's.
#[test]
fn every_fault_is_caught_by_the_case_named_for_it() {
    for fault in Fault::ALL {
        assert!(CAUGHT_BY.iter().any(|(known, _)| known == fault), "nothing is named to catch {fault:?}");
    }
    assert!(CAUGHT_BY.len() >= 15, "{}", CAUGHT_BY.len());
    let mut names: Vec<&str> = CAUGHT_BY.iter().map(|(_, name)| *name).collect();
    names.sort_unstable();
    names.dedup();
    for name in names {
        assert!(entry(name).holds(), "'{name}' holds without a fault");
    }
    let mut slipped = Vec::new();
    for (fault, name) in CAUGHT_BY {
        plant(Some(*fault));
        let caught = !entry(name).holds();
        plant(None);
        println!("{:45} {}: {}", name, fault.title(), if caught { "caught" } else { "SLIPPED THROUGH" });
        if !caught {
            slipped.push((fault, name));
        }
    }
    assert!(slipped.is_empty(), "faults that no case noticed: {slipped:?}");
}
