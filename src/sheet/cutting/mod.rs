//! The cutting list: small diagrams of the panels that are cut, and the pieces in order of laying.
//!
//! In: design. Out: blocks. Panels that are cut alike are drawn once. Of a large job's diagrams
//! the first [`MOST`] are drawn; the cuts of the other panels stand in a table.

mod diagram;
mod groups;
mod readings;
mod tables;
#[cfg(test)]
mod tests;

use super::chains::bare;
use super::column::{Block, Entry, Parting};
use super::figure::Figure;
use super::labels::Keyed;
use super::lettering::{NOTE, width, wrap};
use super::signs::Sign;
use super::symbol;
use super::table::{SYMBOL_HEIGHT, SYMBOL_WIDTH};
use super::words::long;
use crate::design::Design;
use crate::draw::Face;
use crate::draw::scale::Scale;
use crate::language::{Languages, phrase, say};
use crate::panels::CutPanel;
use crate::units::{Length, System};
use diagram::Model;
use groups::Group;
use readings::{Readings, readings};

/// Most diagrams of a set: what a person looks through, some four sheets of A3.
pub const MOST: usize = 120;
/// Largest a panel is drawn, along and across, on paper; and where dimensions say two units.
const LARGEST: [[f64; 2]; 2] = [[48.0, 40.0], [70.0, 56.0]];
/// Least breadth of the words under a diagram.
const BREADTH: f64 = 44.0;
/// Most lines of marks under a diagram; more stand in the table alone.
const LINES: usize = 8;
/// Between the marks of the pieces that one panel gives.
const THEN: &str = " → ";

/// The blocks of the cutting list; none where no panel is cut.
pub fn blocks(design: &Design) -> Vec<Block> {
    let cut = &design.purchase.cut_panels;
    if cut.is_empty() {
        return Vec::new();
    }
    let list = List::new(design);
    let groups = groups::groups(cut, list.every, &|mm| list.printed(mm));
    let (drawn, others) = groups.split_at(groups.len().min(MOST));
    let mut blocks = vec![list.diagrams(drawn, others.len())];
    blocks.push(tables::pieces(design, &groups));
    let others = others.iter().flat_map(|group| &group.panels);
    blocks.extend(tables::cuts(design, &others.copied().collect::<Vec<_>>()));
    blocks
}

/// What the diagrams of a job share.
struct List<'a> {
    design: &'a Design,
    size: [f64; 2],
    scale: Scale,
    every: f64,
}

impl<'a> List<'a> {
    fn new(design: &'a Design) -> Self {
        let panel = &design.job.panels.panel;
        let system = design.job.sheet.units;
        let [wide, high] = LARGEST[usize::from(system == System::Dual)];
        let size = [panel.length, panel.width];
        let fits = |scale: &Scale| size[0] / scale.ratio <= wide && size[1] / scale.ratio <= high;
        let mut standard = Scale::standard(system);
        let smallest = standard.pop().unwrap_or_else(|| Scale::one_to(1000.0));
        Self {
            design,
            size,
            scale: standard.into_iter().find(fits).unwrap_or(smallest),
            every: design.marks_every(),
        }
    }

    /// A dimension as the diagrams print it.
    fn printed(&self, mm: f64) -> String {
        bare(Length::from_mm(mm), self.design.job.sheet.units)
    }

    /// The block of diagrams with its key.
    fn diagrams(&self, groups: &[Group], others: usize) -> Block {
        let languages = self.design.job.sheet.languages;
        let [length, width] = self.size.map(|mm| long(self.design, mm));
        let mut entries = vec![Entry::plain(languages.lines(&phrase!(
            "Panels are {length} × {width}, seen from above with the course to the right. Dimensions run from the corner with the dot, the one nearest the start.",
            length,
            width
        )))];
        let cut = &self.design.purchase.cut_panels;
        let panels = |group: &Group| group.panels.len() > 1;
        let shares = |panel: &CutPanel| panel.pieces.len() > 1;
        if cut.iter().any(shares) {
            entries.push(Entry::plain(languages.lines(&phrase!(
                "Marks with an arrow: cut the first piece; what is left of its panel gives the next."
            ))));
        }
        if groups.iter().any(panels) {
            entries.push(Entry::plain(languages.lines(&phrase!(
                "Panels cut alike are drawn once: the numbers stand for their marks, in the order of cutting."
            ))));
        }
        if others > 0 {
            let count = groups.len();
            entries.push(Entry::strong(
                "",
                languages.lines(&phrase!(
                    "Drawn are cuts 1 to {count}; the other panels are in the table of cuts.",
                    count
                )),
            ));
        }
        entries.push(Entry::Signs(self.signs()));
        let figures = groups.iter().map(|group| self.figure(group)).collect();
        entries.push(Entry::Figures(figures));
        Block {
            title: say!(
                languages,
                "Cutting diagrams, {scale}",
                scale = symbol::scale_words(&self.scale)
            ),
            entries,
            parting: Parting::Allowed,
        }
    }

    fn signs(&self) -> Vec<Sign> {
        let languages = self.design.job.sheet.languages;
        let words = [
            phrase!("Line to cut"),
            phrase!("Side that locks: keep it"),
            phrase!("Waste"),
            phrase!("Corner nearest the start"),
        ];
        let signs = diagram::signs([SYMBOL_WIDTH, SYMBOL_HEIGHT]);
        let signs = signs.into_iter().zip(words);
        signs
            .map(|(symbol, words)| Sign {
                symbol,
                words: languages.label(&words),
            })
            .collect()
    }

    /// The diagram of a group, with its words.
    fn figure(&self, group: &Group) -> Figure {
        let languages = self.design.job.sheet.languages;
        let cut = &self.design.purchase.cut_panels;
        let panel = &cut[group.panels[0]];
        let readings = readings(panel, self.size, self.every);
        let alone = group.panels.len() == 1;
        let words: Vec<String> = panel
            .pieces
            .iter()
            .enumerate()
            .map(|(place, piece)| match alone {
                true => piece.mark.clone(),
                false => (place + 1).to_string(),
            })
            .collect();
        let sides = readings.sides.iter();
        let model = Model {
            number: group.number,
            panel,
            size: self.size,
            dimensions: sides.map(|reading| self.printed(reading.at_mm())).collect(),
            readings: &readings,
            words,
        };
        let (mut figure, keyed) = diagram::draw(&model, &self.scale);
        let number = group.number;
        figure.title = match group.panels.len() {
            1 => say!(languages, "Cut {number}", number),
            count => say!(
                languages,
                "Cut {number}: {count} panel | Cut {number}: {count} panels",
                number,
                count
            ),
        };
        let breadth = figure.breadth().max(BREADTH);
        let panels: Vec<&CutPanel> = group.panels.iter().map(|at| &cut[*at]).collect();
        figure.notes.extend(self.marks(&panels, breadth));
        figure
            .notes
            .extend(self.listed(&readings, &model.words, breadth));
        figure.notes.extend(keyed_lines(&keyed, languages, breadth));
        figure
    }

    /// The marks of each panel's pieces, in lines of that breadth.
    fn marks(&self, panels: &[&CutPanel], breadth: f64) -> Vec<String> {
        let languages = self.design.job.sheet.languages;
        if let [panel] = panels
            && panel.pieces.len() == 1
        {
            return Vec::new();
        }
        let chain = |panel: &&CutPanel| {
            let marks: Vec<&str> = panel
                .pieces
                .iter()
                .map(|piece| piece.mark.as_str())
                .collect();
            marks.join(THEN)
        };
        let lines = rows(panels.iter().map(chain), breadth);
        if lines.len() > LINES {
            let words = say!(languages, "Marks: see the pieces by cut");
            return wrap(&words, NOTE, Face::Regular, breadth);
        }
        lines
    }

    /// The points of the cuts that are marked by points, in lines of that breadth.
    fn listed(&self, readings: &Readings, words: &[String], breadth: f64) -> Vec<String> {
        let languages = self.design.job.sheet.languages;
        let mut lines = Vec::new();
        for listed in &readings.listed {
            let of = say!(
                languages,
                "Curve of {piece}, along × across:",
                piece = words[listed.piece]
            );
            lines.extend(wrap(&of, NOTE, Face::Regular, breadth));
            let points = listed.points.iter();
            let places = points.map(|[along, across]| {
                format!("{} × {}", self.printed(*along), self.printed(*across))
            });
            lines.extend(rows(places, breadth));
        }
        lines
    }
}

/// Words one after the other in lines of that breadth, none of them broken.
fn rows(words: impl Iterator<Item = String>, breadth: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for words in words {
        if let Some(last) = lines.last_mut() {
            let longer = format!("{last}; {words}");
            if width(&longer, NOTE, Face::Regular) <= breadth {
                *last = longer;
                continue;
            }
            last.push(';');
        }
        lines.push(words);
    }
    lines
}

/// What found no place in a diagram, by the number that stands for it.
fn keyed_lines(keyed: &[Keyed], languages: Languages, breadth: f64) -> Vec<String> {
    let rows = keyed.iter().map(|row| match row.number {
        0 => row.words.say(languages),
        number => format!("[{number}] {}", row.words.say(languages)),
    });
    rows.flat_map(|row| wrap(&row, NOTE, Face::Regular, breadth))
        .collect()
}
