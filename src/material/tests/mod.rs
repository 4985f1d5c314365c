//! Tests of the room. They stand apart because they use the shared comparison of a room above.

mod facts;
mod tables;

const PRINTED: &str = "the reference is printed to this many digits";
const ENTRY: &str = "a table entry, rounding only";
