//! The sketches of the measuring sheet: one for each step, the asked dimensions marked by letters.
//!
//! They show what is meant, not a sheave of any size. Units: mm on paper.

mod double;
mod lift;
mod parts;
mod rims;
mod shapes;
mod wheels;

pub(super) use double::double_wrap;
pub(super) use lift::{loads, rope, roping, tensions};
pub(super) use rims::{depth, hardness, rim, walls};
pub(super) use shapes::shapes;
pub(super) use wheels::wheels;

use crate::report::drafting::{Drawing, Note};
use crate::report::drawing::{GREY, Tie};

/// Width of every sketch: that of the text on the smaller paper.
const WIDTH: f64 = 178.0;

fn letter(letter: &'static str) -> Note {
    Note::Letter(letter)
}

/// What a part of a sketch shows, below it.
fn under(drawing: &mut Drawing, x: f64, y: f64, words: &str) {
    drawing.words((x, y), words, Tie::Middle, GREY, 0.0);
}
