//! Drawn figures of known sizes in rows: cutting diagrams, bar pictures, comparison sections.
//!
//! In: figures, each drawn from its own top left corner, and a column width. Out: items, rows from
//! left to right as many as fit, titles and notes under the figures. Paper millimetres, y down.

use super::column::LINE;
use super::lettering::{NOTE, width};
use super::pen;
use super::shift::shifted;
use crate::draw::{Anchor, Face, Group, Item, Pt};

/// A drawn figure of known size with its title under it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// Title, under the figure; may be empty.
    pub title: String,
    /// Lines of words under the title.
    pub notes: Vec<String>,
    /// Width of the figure.
    pub width: f64,
    /// Height of the figure, without its title.
    pub height: f64,
    /// The figure, relative to its top left corner.
    pub items: Vec<Item>,
}

/// Clear breadth between figures, and height below a row.
pub const GAP: f64 = 5.0;
/// Clear height between a figure and its title.
const UNDER: f64 = 1.2;

impl Figure {
    /// Breadth that the figure and its words need.
    pub fn breadth(&self) -> f64 {
        let notes = self.notes.iter();
        notes
            .map(|line| width(line, NOTE, Face::Regular))
            .chain([width(&self.title, NOTE, Face::SemiBold)])
            .fold(self.width, f64::max)
    }

    /// Height of its title and the lines under it.
    fn words_height(&self) -> f64 {
        let lines = usize::from(!self.title.is_empty()) + self.notes.len();
        match lines {
            0 => 0.0,
            lines => UNDER + LINE * lines as f64,
        }
    }
}

/// What is drawn as a view of its own, within the layer that the block is on.
pub fn view(id: &str, items: Vec<Item>) -> Item {
    Item::Group(Group {
        id: id.to_owned(),
        title: String::new(),
        layer: None,
        clip: None,
        items,
    })
}

/// The figures by rows of a column.
fn rows(figures: &[Figure], column: f64) -> Vec<&[Figure]> {
    let mut rows = Vec::new();
    let mut from = 0;
    let mut used = 0.0;
    for (index, figure) in figures.iter().enumerate() {
        let breadth = figure.breadth();
        if index > from && used + breadth > column {
            rows.push(&figures[from..index]);
            from = index;
            used = 0.0;
        }
        used += breadth + GAP;
    }
    if from < figures.len() {
        rows.push(&figures[from..]);
    }
    rows
}

/// Figures of a row stand on one line, so the tallest of them and the longest words count.
fn row_height(row: &[Figure]) -> f64 {
    let tallest = row.iter().map(|f| f.height).fold(0.0, f64::max);
    let words = row.iter().map(Figure::words_height).fold(0.0, f64::max);
    tallest + words + GAP
}

/// Height of the rows in a column of that width.
pub fn height(figures: &[Figure], column: f64) -> f64 {
    rows(figures, column).into_iter().map(row_height).sum()
}

/// How many figures stand in the rows that fit that height.
pub fn that_fit(figures: &[Figure], column: f64, room: f64) -> usize {
    let mut left = room;
    let mut count = 0;
    for row in rows(figures, column) {
        left -= row_height(row);
        if left < 0.0 {
            break;
        }
        count += row.len();
    }
    count
}

/// Draws the rows from a top left corner; figures of a row stand on one line.
pub fn draw(figures: &[Figure], at: Pt, column: f64) -> Vec<Item> {
    let mut items = Vec::new();
    let mut y = at.y;
    for row in rows(figures, column) {
        let tallest = row.iter().map(|f| f.height).fold(0.0, f64::max);
        let mut x = at.x;
        for figure in row {
            let top = y + tallest - figure.height;
            items.extend(figure.items.iter().map(|item| shifted(item, x, top)));
            let mut base = Pt::new(x, y + tallest + UNDER + NOTE);
            if !figure.title.is_empty() {
                items.push(pen::bold(base, NOTE, Anchor::Start, &figure.title));
                base = base.moved(0.0, LINE);
            }
            for line in &figure.notes {
                items.push(pen::text(base, NOTE, Anchor::Start, line));
                base = base.moved(0.0, LINE);
            }
            x += figure.breadth() + GAP;
        }
        y += row_height(row);
    }
    items
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(count: usize) -> Vec<Figure> {
        let figure = Figure {
            width: 30.0,
            height: 20.0,
            ..Figure::default()
        };
        vec![figure; count]
    }

    /// Three of 30 mm with 5 mm between take 100 mm; a fourth starts a row.
    #[test]
    fn rows_are_as_long_as_the_column_lets_them() {
        assert_eq!(height(&figures(3), 100.0), 25.0);
        assert_eq!(height(&figures(4), 100.0), 50.0);
        assert_eq!(height(&figures(3), 99.0), 50.0);
        assert_eq!(that_fit(&figures(7), 100.0, 60.0), 6);
        assert_eq!(that_fit(&figures(7), 100.0, 20.0), 0);
    }
}
