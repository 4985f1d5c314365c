//! A series of VTK files as one collection, which viewers step through.
//!
//! Source: the collection format that VTK readers share (type "Collection", version 0.1).

use std::fmt::Write as _;

/// The collection's text: `steps` are values of what is varied with the names of their files beside it.
pub fn collection(steps: &[(f64, String)]) -> String {
    let mut text = String::from(
        "<?xml version=\"1.0\"?>\n<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n  <Collection>\n",
    );
    for (value, file) in steps {
        let _ = writeln!(text, "    <DataSet timestep=\"{value}\" part=\"0\" file=\"{file}\"/>");
    }
    text.push_str("  </Collection>\n</VTKFile>\n");
    text
}
