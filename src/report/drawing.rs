//! A sheet of SVG: shapes with coordinates rounded to 0.1, so that equal drawings are equal bytes.
//!
//! Owns pens, arrow heads, hatching and text. Lacks any subject. Units: px, 96 to the inch, y downwards.

use super::paper::printable;
use svg::Node;
use svg::node::element::{Circle, Element, Group, Line, Path, Rectangle, SVG, Text, Title};

/// Scales of ISO 5455, the largest first: paper over thing, and how it is said.
pub(in crate::report) const SCALES: [(f64, &str); 8] = [
    (10.0, "10 : 1"),
    (5.0, "5 : 1"),
    (2.0, "2 : 1"),
    (1.0, "1 : 1"),
    (0.5, "1 : 2"),
    (0.2, "1 : 5"),
    (0.1, "1 : 10"),
    (0.05, "1 : 20"),
];

/// px per mm on paper: 96 px to the inch.
pub(super) const PX_PER_MM: f64 = 96.0 / 25.4;

/// Black of outlines and words.
pub(super) const INK: &str = "#1c1c1c";
/// Dimensions, axes, grids.
pub(super) const GREY: &str = "#6a6a6a";
/// The one accent: loads, and what is to be read first. Dark enough for print in grey.
pub(super) const ACCENT: &str = "#0b5a78";
/// Inside of the body.
pub(super) const BODY: &str = "#eceae4";

/// Size of the words (px), and a width that no usual letter exceeds on the mean, whatever sans-serif face the
/// reader's machine puts in.
pub(super) const WORDS: f64 = 11.0;
const LETTER: f64 = 6.3;

/// Where a text is tied to its point.
#[derive(Clone, Copy, PartialEq)]
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
    pub const NONE: Self = Self::new("none", 0.0);

    pub const fn new(colour: &'static str, width: f64) -> Self {
        Self { colour, width, dashes: "" }
    }

    pub const fn dashed(colour: &'static str, width: f64, dashes: &'static str) -> Self {
        Self { colour, width, dashes }
    }

    fn draw(self, node: &mut impl Node) {
        node.assign("stroke", self.colour);
        if self.width > 0.0 {
            node.assign("stroke-width", number(self.width));
        }
        if !self.dashes.is_empty() {
            node.assign("stroke-dasharray", self.dashes);
        }
    }
}

pub(super) struct Sheet {
    width: f64,
    height: f64,
    shapes: Group,
}

/// Rounded to 0.1, without "-0".
pub(super) fn number(value: f64) -> String {
    let tenths = (value * 10.0).round();
    if tenths == 0.0 { "0".to_owned() } else { format!("{}", tenths / 10.0) }
}

/// A width that a text will hardly exceed (px).
pub(super) fn text_width(text: &str) -> f64 {
    LETTER * text.chars().count() as f64
}

impl Sheet {
    pub fn new(width: f64, height: f64) -> Self {
        Self { width, height, shapes: Group::new() }
    }

    /// Ends the sheet at this height.
    pub fn cut_at(&mut self, height: f64) {
        self.height = height;
    }

    pub fn size(&self) -> At {
        (self.width, self.height)
    }

    /// The finished drawing; `title` is read out to those who cannot see it.
    pub fn finish(self, title: &str) -> String {
        let (w, h) = (number(self.width), number(self.height));
        let ground =
            Rectangle::new().set("width", w.as_str()).set("height", h.as_str()).set("fill", "#ffffff");
        let sheet = SVG::new()
            .set("viewBox", format!("0 0 {w} {h}"))
            .set("width", w)
            .set("height", h)
            .set("role", "img")
            .set("font-family", "Helvetica, Arial, sans-serif")
            .set("font-size", number(WORDS))
            .add(Title::new(printable(title)))
            .add(ground)
            .add(self.shapes);
        sheet.to_string() + "\n"
    }

    fn add(&mut self, node: impl Into<Box<dyn Node>>) {
        self.shapes.append(node);
    }

    /// Another sheet laid on this one and cut at its own borders, which are drawn.
    pub fn lay(&mut self, at: At, other: Self) {
        let end = (at.0 + other.width, at.1 + other.height);
        self.window(at, other);
        self.frame(at, end);
    }

    /// Another sheet laid on this one and cut at its own borders.
    pub fn window(&mut self, at: At, other: Self) {
        let (w, h) = (number(other.width), number(other.height));
        let mut inner = Element::new("svg");
        inner.assign("x", number(at.0));
        inner.assign("y", number(at.1));
        inner.assign("viewBox", format!("0 0 {w} {h}"));
        inner.assign("width", w);
        inner.assign("height", h);
        inner.append(other.shapes);
        self.add(inner);
    }

    /// Another sheet put on this one as it is.
    pub fn put(&mut self, at: At, other: Self) {
        let shift = format!("translate({} {})", number(at.0), number(at.1));
        self.add(other.shapes.set("transform", shift));
    }

    /// A thin rectangle between two corners.
    pub fn frame(&mut self, a: At, b: At) {
        self.area(&[vec![a, (b.0, a.1), b, (a.0, b.1)]], "none", Pen::new(GREY, 0.7));
    }

    pub fn line(&mut self, a: At, b: At, pen: Pen) {
        let mut line = Line::new()
            .set("x1", number(a.0))
            .set("y1", number(a.1))
            .set("x2", number(b.0))
            .set("y2", number(b.1));
        pen.draw(&mut line);
        self.add(line);
    }

    /// An open line through the points.
    pub fn path(&mut self, points: &[At], pen: Pen) {
        let mut path =
            Path::new().set("d", course(points)).set("fill", "none").set("stroke-linejoin", "round");
        pen.draw(&mut path);
        self.add(path);
    }

    /// Closed loops filled together, so that inner ones are holes.
    pub fn area(&mut self, loops: &[Vec<At>], fill: &str, pen: Pen) {
        let d: Vec<String> = loops.iter().map(|points| course(points) + "Z").collect();
        let mut path = Path::new()
            .set("d", d.join(" "))
            .set("fill", fill)
            .set("fill-rule", "evenodd")
            .set("stroke-linejoin", "round");
        pen.draw(&mut path);
        self.add(path);
    }

    /// Thin lines at 45°, `gap` apart, inside closed loops.
    pub fn hatch(&mut self, loops: &[Vec<At>], gap: f64, pen: Pen) {
        let mut d = String::new();
        for (from, to) in hatching(loops, gap) {
            d += &course(&[from, to]);
        }
        if !d.is_empty() {
            let mut path = Path::new().set("d", d).set("fill", "none");
            pen.draw(&mut path);
            self.add(path);
        }
    }

    pub fn circle(&mut self, at: At, radius: f64, fill: &str, pen: Pen) {
        let mut circle = Circle::new()
            .set("cx", number(at.0))
            .set("cy", number(at.1))
            .set("r", number(radius))
            .set("fill", fill);
        pen.draw(&mut circle);
        self.add(circle);
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
        self.area(&[sides.to_vec()], colour, Pen::NONE);
    }

    pub fn text(&mut self, at: At, text: &str, tie: Tie, colour: &str) {
        self.words(at, text, tie, colour, 0.0);
    }

    /// Text turned by `degrees` about its point, clockwise; a white rim keeps it legible over lines.
    pub fn words(&mut self, at: At, text: &str, tie: Tie, colour: &str, degrees: f64) {
        self.write(at, text, tie, colour, degrees, false);
    }

    /// Text in bold: what is to be read first.
    pub fn bold(&mut self, at: At, text: &str, tie: Tie, colour: &str) {
        self.write(at, text, tie, colour, 0.0, true);
    }

    fn write(&mut self, at: At, text: &str, tie: Tie, colour: &str, degrees: f64, bold: bool) {
        let anchor = match tie {
            Tie::Start => "start",
            Tie::Middle => "middle",
            Tie::End => "end",
        };
        let (x, y) = (number(at.0), number(at.1));
        let mut words = Text::new(printable(text))
            .set("x", x.as_str())
            .set("y", y.as_str())
            .set("text-anchor", anchor)
            .set("stroke", "#ffffff")
            .set("stroke-width", "3")
            .set("stroke-linejoin", "round")
            .set("paint-order", "stroke")
            .set("fill", colour);
        if bold {
            words.assign("font-weight", "bold");
        }
        if degrees != 0.0 {
            words.assign("transform", format!("rotate({degrees} {x} {y})"));
        }
        self.add(words);
    }
}

fn course(points: &[At]) -> String {
    let mut d = String::new();
    for (index, point) in points.iter().enumerate() {
        d.push(if index == 0 { 'M' } else { 'L' });
        d += &number(point.0);
        d.push(' ');
        d += &number(point.1);
    }
    d
}

/// Stretches of the lines x + y = k·gap inside the loops, by counting how often each line crosses them.
fn hatching(loops: &[Vec<At>], gap: f64) -> Vec<(At, At)> {
    let sum = |p: &At| p.0 + p.1;
    let sums = || loops.iter().flatten().map(sum);
    let (low, high) = (sums().fold(f64::INFINITY, f64::min), sums().fold(f64::NEG_INFINITY, f64::max));
    let mut found = Vec::new();
    let (first, last) = ((low / gap).ceil() as i64, (high / gap).floor() as i64);
    for step in first..=last {
        // A hair beside the round value, so that no corner lies exactly on a line.
        let level = step as f64 * gap + 1e-7;
        let mut crossings: Vec<At> = Vec::new();
        for points in loops {
            for (index, a) in points.iter().enumerate() {
                let b = points[(index + 1) % points.len()];
                let (before, after) = (sum(a) - level, sum(&b) - level);
                if (before < 0.0) != (after < 0.0) {
                    let share = before / (before - after);
                    crossings.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
                }
            }
        }
        crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
        found.extend(crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_are_tenths_and_words_are_escaped() {
        assert_eq!(number(12.349_9), "12.3");
        assert_eq!(number(-0.04), "0");
        let mut sheet = Sheet::new(10.0, 20.0);
        sheet.text((1.0, 2.0), "<a & \"b\">\u{202e}\u{1}", Tie::Start, INK);
        let svg = sheet.finish("x < y");
        assert!(svg.contains("&lt;a &amp; \"b\"&gt;\n") && svg.contains("x &lt; y"), "{svg}");
    }

    #[test]
    fn hatching_stays_inside_and_out_of_holes() {
        let square = |a: f64, b: f64| vec![(a, a), (b, a), (b, b), (a, b)];
        let lines = hatching(&[square(0.0, 10.0), square(4.0, 6.0)], 1.0);
        let length: f64 = lines.iter().map(|(a, b)| (b.0 - a.0).hypot(b.1 - a.1)).sum();
        // Area over the distance of two lines, gap/√2.
        assert!((length * 0.5f64.sqrt() - 96.0).abs() < 3.0, "{length}");
        let inside = |p: &At| (4.1..5.9).contains(&p.0) && (4.1..5.9).contains(&p.1);
        assert!(lines.iter().all(|(a, b)| !inside(&(0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1)))));
    }
}
