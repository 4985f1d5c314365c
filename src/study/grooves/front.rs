//! Which of several choices no other one beats in both reserves at once.
//!
//! A reserve is a ratio: 1 just meets its rule, more is better. Without traction the stress alone counts.

use crate::study::result::TractionFact;

/// The two things that are traded against each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reserves {
    pub stress: f64,
    /// `None` where traction is not judged.
    pub traction: Option<f64>,
}

impl Reserves {
    /// Whether this choice is at least as good in both and better in one.
    pub fn beats(&self, other: &Self) -> bool {
        let traction = |reserves: &Self| reserves.traction.unwrap_or(1.0);
        let (mine, its) = (traction(self), traction(other));
        self.stress >= other.stress && mine >= its && (self.stress > other.stress || mine > its)
    }
}

/// Indices of the choices that no other one beats, the most stress reserve first. Of equals the first stays.
pub fn front(list: &[Reserves]) -> Vec<usize> {
    let kept = |index: &usize| {
        let own = &list[*index];
        list.iter().enumerate().all(|(other, its)| !(its.beats(own) || other < *index && its == own))
    };
    let mut front: Vec<usize> = (0..list.len()).filter(kept).collect();
    front.sort_by(|a, b| list[*b].stress.total_cmp(&list[*a].stress));
    front
}

/// Least of limit over ratio where the ratio must stay below, and of ratio over limit where it must reach it;
/// `None` without any case.
pub fn traction_reserve(facts: &[TractionFact]) -> Option<f64> {
    facts.iter().map(reserve_of).reduce(f64::min)
}

/// The reserve in one case.
pub fn reserve_of(fact: &TractionFact) -> f64 {
    if fact.at_most { fact.limit / fact.ratio } else { fact.ratio / fact.limit }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn both(stress: f64, traction: f64) -> Reserves {
        Reserves { stress, traction: Some(traction) }
    }

    #[test]
    fn a_choice_that_is_worse_in_both_is_left_out() {
        let list = [both(1.2, 1.0), both(1.5, 0.9), both(1.1, 0.95), both(1.0, 1.4)];
        assert_eq!(front(&list), [1, 0, 3]);
    }

    #[test]
    fn equal_in_one_the_better_in_the_other_stays() {
        assert_eq!(front(&[both(1.2, 1.0), both(1.2, 1.1), both(1.0, 1.1)]), [1]);
    }

    #[test]
    fn of_equals_the_first_stays() {
        assert_eq!(front(&[both(1.2, 1.0), both(1.2, 1.0)]), [0]);
        assert!(!both(1.2, 1.0).beats(&both(1.2, 1.0)));
    }

    #[test]
    fn the_front_is_the_same_in_any_order_and_beats_all_others() {
        // Points of a spiral, so that many of them are beaten.
        let list: Vec<Reserves> = (0..60)
            .map(|i| {
                let (turn, size) = (0.7 * f64::from(i), 1.0 + 0.01 * f64::from(i));
                both(2.0 + size * turn.cos(), 2.0 + size * turn.sin())
            })
            .collect();
        let kept = front(&list);
        assert!(kept.len() > 2 && kept.len() < 30, "{kept:?}");
        for (index, own) in list.iter().enumerate() {
            let beaten = kept.iter().any(|other| list[*other].beats(own));
            assert_eq!(beaten, !kept.contains(&index), "{index}");
        }
        for pair in kept.windows(2) {
            // Along the front one reserve is paid for with the other.
            let traction = |index: usize| list[index].traction.unwrap_or(f64::NAN);
            assert!(list[pair[0]].stress > list[pair[1]].stress && traction(pair[0]) < traction(pair[1]));
        }
        let backwards: Vec<Reserves> = list.iter().rev().copied().collect();
        let mirrored: Vec<usize> = front(&backwards).into_iter().map(|i| list.len() - 1 - i).collect();
        assert_eq!(mirrored, kept);
    }

    #[test]
    fn without_traction_the_most_stress_reserve_is_left() {
        let alone = |stress| Reserves { stress, traction: None };
        assert_eq!(front(&[alone(1.1), alone(1.3), alone(1.2)]), [1]);
    }

    #[test]
    fn each_inequality_counts_in_its_own_direction() {
        let fact = |ratio, limit, at_most| TractionFact {
            case: String::new(),
            ratio,
            limit,
            friction: 0.2,
            at_most,
        };
        assert_eq!(traction_reserve(&[]), None);
        // A ratio below its limit is good while the ropes must hold, and bad where they must slip.
        assert_eq!(traction_reserve(&[fact(1.5, 1.8, true)]), Some(1.2));
        assert_eq!(traction_reserve(&[fact(1.5, 1.8, true), fact(1.5, 3.0, false)]), Some(0.5));
        assert_eq!(traction_reserve(&[fact(1.5, 1.2, true), fact(6.0, 3.0, false)]), Some(1.2 / 1.5));
    }
}
