//! A sheet of SVG: shapes with coordinates rounded to 0.1, so that equal drawings are equal bytes.
//!
//! Owns pens, arrow heads and text. Lacks any subject. Units: pixels, y downwards.

use std::fmt::Write as _;

/// Black of outlines and words.
pub(super) const INK: &str = "#1c1c1c";
/// Dimensions, axes, grids.
pub(super) const GREY: &str = "#7a7a7a";
/// The one accent: loads, and what is to be read first. Dark enough for print in grey.
pub(super) const ACCENT: &str = "#0b5a78";
/// Inside of the body.
pub(super) const BODY: &str = "#eceae4";

/// Where a text is tied to its point.
#[derive(Clone, Copy)]
pub(super) enum Tie {
    Start,
    Middle,
    End,
}

pub(super) type At = (f64, f64);

/// A line's colour, width and dashes.
#[derive(Clone, Copy)]
pub(super) struct Pen {
    pub colour: &'static str,
    pub width: f64,
    pub dashes: &'static str,
}

impl Pen {
    pub const fn new(colour: &'static str, width: f64) -> Self {
        Self { colour, width, dashes: "" }
    }

    pub const fn dashed(colour: &'static str, width: f64, dashes: &'static str) -> Self {
        Self { colour, width, dashes }
    }

    fn attributes(self) -> String {
        let dashes = match self.dashes {
            "" => String::new(),
            dashes => format!(" stroke-dasharray=\"{dashes}\""),
        };
        format!("stroke=\"{}\" stroke-width=\"{}\"{dashes}", self.colour, number(self.width))
    }
}

pub(super) struct Sheet {
    width: f64,
    height: f64,
    shapes: String,
}

/// Rounded to 0.1, without "-0".
pub(super) fn number(value: f64) -> String {
    let tenths = (value * 10.0).round();
    if tenths == 0.0 { "0".to_owned() } else { format!("{}", tenths / 10.0) }
}

/// Text that means the same inside SVG and HTML.
pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

impl Sheet {
    pub fn new(width: f64, height: f64) -> Self {
        Self { width, height, shapes: String::new() }
    }

    /// The finished drawing; `title` is read out to those who cannot see it.
    pub fn finish(self, title: &str) -> String {
        let (w, h) = (number(self.width), number(self.height));
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" role=\"img\" \
             font-family=\"Helvetica, Arial, sans-serif\" font-size=\"11\">\n<title>{}</title>\n\
             <rect width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>\n{}</svg>\n",
            escaped(title),
            self.shapes
        )
    }

    /// Another sheet laid on this one and cut at its own borders, which are drawn.
    pub fn lay(&mut self, at: At, other: Self) {
        let (w, h) = (number(other.width), number(other.height));
        let _ = writeln!(
            self.shapes,
            "<svg x=\"{}\" y=\"{}\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\">\n{}</svg>",
            number(at.0),
            number(at.1),
            other.shapes
        );
        self.frame(at, (at.0 + other.width, at.1 + other.height));
    }

    /// A thin rectangle between two corners.
    pub fn frame(&mut self, a: At, b: At) {
        self.area(&[vec![a, (b.0, a.1), b, (a.0, b.1)]], "none", Pen::new(GREY, 0.7));
    }

    pub fn line(&mut self, a: At, b: At, pen: Pen) {
        let _ = writeln!(
            self.shapes,
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>",
            number(a.0),
            number(a.1),
            number(b.0),
            number(b.1),
            pen.attributes()
        );
    }

    /// An open line through the points.
    pub fn path(&mut self, points: &[At], pen: Pen) {
        let _ = writeln!(
            self.shapes,
            "<path d=\"{}\" fill=\"none\" stroke-linejoin=\"round\" {}/>",
            course(points),
            pen.attributes()
        );
    }

    /// Closed loops filled together, so that inner ones are holes.
    pub fn area(&mut self, loops: &[Vec<At>], fill: &str, pen: Pen) {
        let d: Vec<String> = loops.iter().map(|points| course(points) + "Z").collect();
        let _ = writeln!(
            self.shapes,
            "<path d=\"{}\" fill=\"{fill}\" fill-rule=\"evenodd\" stroke-linejoin=\"round\" {}/>",
            d.join(" "),
            pen.attributes()
        );
    }

    pub fn circle(&mut self, at: At, radius: f64, fill: &str, pen: Pen) {
        let _ = writeln!(
            self.shapes,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{fill}\" {}/>",
            number(at.0),
            number(at.1),
            number(radius),
            pen.attributes()
        );
    }

    /// A line with a filled head at `tip`.
    pub fn arrow(&mut self, tail: At, tip: At, pen: Pen) {
        self.line(tail, tip, pen);
        self.head(tail, tip, pen.colour);
    }

    /// The head of an arrow alone.
    pub fn head(&mut self, tail: At, tip: At, colour: &'static str) {
        let (dx, dy) = (tip.0 - tail.0, tip.1 - tail.1);
        let length = dx.hypot(dy);
        if length == 0.0 {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        let (long, half) = (6.0f64.min(0.7 * length), 2.1);
        let base = (tip.0 - long * ux, tip.1 - long * uy);
        let sides = [tip, (base.0 - half * uy, base.1 + half * ux), (base.0 + half * uy, base.1 - half * ux)];
        self.area(&[sides.to_vec()], colour, Pen::new("none", 0.0));
    }

    pub fn text(&mut self, at: At, text: &str, tie: Tie, colour: &str) {
        self.words(at, text, tie, colour, 0.0);
    }

    /// Text turned by `degrees` about its point, clockwise; a white rim keeps it legible over lines.
    pub fn words(&mut self, at: At, text: &str, tie: Tie, colour: &str, degrees: f64) {
        let anchor = match tie {
            Tie::Start => "start",
            Tie::Middle => "middle",
            Tie::End => "end",
        };
        let (x, y) = (number(at.0), number(at.1));
        let turn =
            if degrees == 0.0 { String::new() } else { format!(" transform=\"rotate({degrees} {x} {y})\"") };
        let _ = writeln!(
            self.shapes,
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\" fill=\"{colour}\" stroke=\"#ffffff\" stroke-width=\"3\" \
             stroke-linejoin=\"round\" paint-order=\"stroke\"{turn}>{}</text>",
            escaped(text)
        );
    }
}

fn course(points: &[At]) -> String {
    let mut d = String::new();
    for (index, point) in points.iter().enumerate() {
        let letter = if index == 0 { 'M' } else { 'L' };
        let _ = write!(d, "{letter}{} {}", number(point.0), number(point.1));
    }
    d
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_are_tenths_and_words_are_escaped() {
        assert_eq!(number(12.349_9), "12.3");
        assert_eq!(number(-0.04), "0");
        let mut sheet = Sheet::new(10.0, 20.0);
        sheet.text((1.0, 2.0), "<a & \"b\">", Tie::Start, INK);
        let svg = sheet.finish("x < y");
        assert!(
            svg.contains("&lt;a &amp; &quot;b&quot;&gt;") && svg.contains("<title>x &lt; y</title>"),
            "{svg}"
        );
    }
}
