//! The title block with its revision table.
//!
//! In: who, where, when, and which sheet of how many. Out: items in a box at the bottom right of
//! the sheet, or along the whole foot of a small one, where a corner of it would be a fifth of the
//! paper. Fields follow ISO 7200 (title, number, date, sheet, created by, approved by,
//! revision); scale, units and site are added beside them. What the job does not state is left
//! blank: a name that checks the sheet is written by hand. Paper millimetres.

use super::lettering::{HEADING, NOTE, PITCH, TITLE, VIEW, fitted, width, wrap};
use super::pen;
use super::title_fields::Fields;
use crate::draw::paper::{Orientation, Paper, Rect};
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Mm, Pt, font};
use crate::language::{Languages, say};

/// What the title block says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TitleBlock {
    /// Languages of its words.
    pub languages: Languages,
    /// Title of the job.
    pub title: String,
    /// What this sheet shows.
    pub shows: String,
    /// Number of the job.
    pub number: String,
    /// Client.
    pub client: String,
    /// Address of the site.
    pub site: String,
    /// Who prepared it.
    pub prepared: String,
    /// Who checked it.
    pub checked: String,
    /// Date.
    pub date: String,
    /// Scale of the plan; none on a sheet without one.
    pub scale: Option<String>,
    /// Name of the paper.
    pub paper: String,
    /// Units of what is printed.
    pub units: String,
    /// Sheet and number of sheets.
    pub sheet: (usize, usize),
    /// Revisions: mark, date, note.
    pub revisions: Vec<[String; 3]>,
}

/// Height of a row of fields.
const ROW: f64 = 9.4;
/// How much farther the first and the last row keep from the outline, which is heavier than the
/// other lines.
const CLEAR: f64 = 0.8;
/// Breadth from which a block along the foot has its fields in two rows; narrower ones have three.
const WIDE: f64 = 230.0;
/// Baseline to baseline of what the sheet shows.
const SHOWS: f64 = NOTE * PITCH + 0.2;
/// Height of a row of the revision table.
const REVISION: f64 = 5.2;

/// Where the title block of a sheet stands, and how high it is, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    /// In the bottom right corner.
    Corner(f64),
    /// Along the whole foot.
    Foot(f64),
}

impl TitleBlock {
    /// Where it stands on a paper.
    pub fn standing(&self, paper: Paper, turned: Orientation) -> Standing {
        if paper.is_small() {
            let revisions = match self.shown().len() {
                0 => 0,
                shown => 1 + shown.div_ceil(2),
            };
            let rows = match paper.frame(turned).width() >= WIDE {
                true => 2.0,
                false => 3.0,
            };
            Standing::Foot(rows * ROW + 2.0 * CLEAR + REVISION * revisions as f64)
        } else {
            Standing::Corner(self.height())
        }
    }

    /// Height in a corner.
    pub fn height(&self) -> f64 {
        13.0 + 7.0 + 4.0 * ROW + REVISION * (self.shown().len() + 1) as f64
    }

    /// The revisions shown: the newest six.
    fn shown(&self) -> &[[String; 3]] {
        &self.revisions[self.revisions.len().saturating_sub(6)..]
    }

    /// Draws it on a paper; `room` is its place with the height from [`TitleBlock::standing`].
    pub fn draw(&self, room: Rect, paper: Paper) -> Vec<Item> {
        match paper.is_small() {
            false => self.in_corner(room),
            true => self.along_foot(room),
        }
    }

    fn in_corner(&self, room: Rect) -> Vec<Item> {
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let (left, width) = (room.left, room.width());
        let mut items = vec![boxed(room)];
        let across = |y: f64| pen::line(Pt::new(left, y), Pt::new(room.right, y), thin);
        let mut y = self.revision_table(&mut items, room, self.shown(), self.shown().len());
        y = self.title_under(&mut items, room, y);
        items.push(across(y));
        let half = left + width * 0.5;
        let third = left + width / 3.0;
        let fields = Fields::of(self);
        let rows = [
            (half, [&fields.client, &fields.site]),
            (half, [&fields.prepared, &fields.checked]),
            // Scales and papers are short, units are not.
            (third, [&fields.scale_or_paper, &fields.units]),
        ];
        for (split, [one, other]) in rows {
            one.draw(&mut items, Pt::new(left, y), split - left);
            other.draw(&mut items, Pt::new(split, y), room.right - split);
            items.push(pen::line(Pt::new(split, y), Pt::new(split, y + ROW), thin));
            y += ROW;
            items.push(across(y));
        }
        let step = width / 3.0;
        let last = [&fields.number, &fields.date, &fields.sheet];
        for (k, field) in last.into_iter().enumerate() {
            let x = left + step * k as f64;
            field.draw(&mut items, Pt::new(x, y), step);
            if k > 0 {
                items.push(pen::line(Pt::new(x, y), Pt::new(x, room.bottom), thin));
            }
        }
        items
    }

    /// Revisions under their heads, with room for so many; gives the y below them.
    fn revision_table(
        &self,
        items: &mut Vec<Item>,
        room: Rect,
        shown: &[[String; 3]],
        rows: usize,
    ) -> f64 {
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let across = |y: f64| pen::line(Pt::new(room.left, y), Pt::new(room.right, y), thin);
        let languages = self.languages;
        let columns = [2.0, 12.0, 34.0].map(|x| room.left + x);
        let mut y = room.top;
        let base = y + REVISION - 1.0;
        for (x, head) in columns.iter().zip([
            say!(languages, "Rev"),
            say!(languages, "Date"),
            say!(languages, "Revision"),
        ]) {
            items.push(pen::bold(Pt::new(*x, base), NOTE, Anchor::Start, &head));
        }
        y += REVISION;
        items.push(across(y));
        for revision in shown {
            for (k, x) in columns.iter().enumerate() {
                let limit = columns.get(k + 1).copied().unwrap_or(room.right) - x - 1.0;
                let words = fitted(&revision[k], NOTE, Face::Regular, limit);
                let at = Pt::new(*x, y + REVISION - 1.2);
                items.push(pen::text(at, NOTE, Anchor::Start, &words));
            }
            y += REVISION;
            items.push(across(y));
        }
        y + REVISION * (rows - shown.len()) as f64
    }

    /// Title and what the sheet shows to the left, fields in two or three rows to the right of them,
    /// revisions above.
    fn along_foot(&self, room: Rect) -> Vec<Item> {
        let thin = pen::solid(LineWidth::W25, Colour::BLACK);
        let mut items = vec![boxed(room)];
        let shown = self.shown();
        let rows = shown.len().div_ceil(2);
        let mut y = room.top;
        if rows > 0 {
            let half = room.centre().x;
            let (older, newer) = shown.split_at(rows);
            let left = Rect {
                right: half,
                ..room
            };
            let right = Rect { left: half, ..room };
            y = self.revision_table(&mut items, left, older, rows);
            if !newer.is_empty() {
                self.revision_table(&mut items, right, newer, rows);
                items.push(pen::line(Pt::new(half, room.top), Pt::new(half, y), thin));
            }
        }
        let split = room.left + room.width() * 0.42;
        items.push(pen::line(
            Pt::new(split, y),
            Pt::new(split, room.bottom),
            thin,
        ));
        let words = Rect {
            top: y,
            right: split,
            ..room
        };
        self.title_in(&mut items, words);
        let first_row = y;
        y += CLEAR;
        let fields = Fields::of(self);
        // Each field with its share of the row's breadth.
        let rows = match room.width() >= WIDE {
            true => vec![
                vec![
                    (&fields.client, 0.25),
                    (&fields.site, 0.29),
                    (&fields.prepared, 0.23),
                    (&fields.checked, 0.23),
                ],
                vec![
                    (&fields.scale_or_paper, 0.22),
                    (&fields.units, 0.34),
                    (&fields.number, 0.16),
                    (&fields.date, 0.15),
                    (&fields.sheet, 0.13),
                ],
            ],
            false => vec![
                vec![(&fields.client, 0.5), (&fields.site, 0.5)],
                vec![
                    (&fields.prepared, 0.28),
                    (&fields.checked, 0.28),
                    (&fields.number, 0.22),
                    (&fields.date, 0.22),
                ],
                vec![
                    (&fields.scale_or_paper, 0.3),
                    (&fields.units, 0.52),
                    (&fields.sheet, 0.18),
                ],
            ],
        };
        let count = rows.len();
        for (index, row) in rows.into_iter().enumerate() {
            if index > 0 {
                items.push(pen::line(Pt::new(split, y), Pt::new(room.right, y), thin));
            }
            let mut x = split;
            for (k, (field, share)) in row.into_iter().enumerate() {
                let wide = (room.right - split) * share;
                if k > 0 {
                    let foot = match index + 1 == count {
                        true => room.bottom,
                        false => y + ROW,
                    };
                    let from = if index == 0 { first_row } else { y };
                    items.push(pen::line(Pt::new(x, from), Pt::new(x, foot), thin));
                }
                field.draw(&mut items, Pt::new(x, y), wide);
                x += wide;
            }
            y += ROW;
        }
        items
    }

    /// Title over what the sheet shows, each as large as its place takes.
    fn title_in(&self, items: &mut Vec<Item>, room: Rect) {
        let limit = room.width() - 4.0;
        let (height, title) = self.titled(&[VIEW, HEADING], limit);
        let mut base = room.top + 2.0 + height;
        for line in &title {
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::bold(at, height, Anchor::Start, line));
            base += height * 1.4;
        }
        let low = self.height_of_shows(limit);
        let down = if low == HEADING { 5.6 } else { 4.6 };
        base += down - height * 1.4;
        if let Some(last) = title.last() {
            base += (apart((last, height), (&self.shows, low)) - down).max(0.0);
        }
        let most = ((room.bottom - 1.2 - base) / SHOWS + 1.0).floor().max(1.0) as usize;
        self.shows_from(items, Pt::new(room.left + 2.0, base), limit, most);
    }

    /// The same in a corner, under revisions; gives the y below it.
    fn title_under(&self, items: &mut Vec<Item>, room: Rect, top: f64) -> f64 {
        let limit = room.width() - 4.0;
        let (height, lines) = self.titled(&[TITLE, VIEW, HEADING], limit);
        // Two lines of what the sheet shows need the pitch of notes, so the title moves up.
        let (lift, first) = match self.height_of_shows(limit) == HEADING {
            true => (0.0, 4.4),
            false => (0.5, 1.5),
        };
        let step = 13.0 / lines.len().max(1) as f64;
        for (i, line) in lines.iter().enumerate() {
            let base = top - lift + step * i as f64 + (step + height) / 2.0;
            let at = Pt::new(room.left + 2.0, base);
            items.push(pen::bold(at, height, Anchor::Start, line));
        }
        self.shows_from(
            items,
            Pt::new(room.left + 2.0, top + 13.0 + first),
            limit,
            2,
        );
        top + 20.0
    }

    /// The title in at most two lines, with its height: the first of those at which it takes one
    /// line, else the last.
    fn titled(&self, heights: &[f64], limit: f64) -> (f64, Vec<String>) {
        let fits = |height: &&f64| width(&self.title, **height, Face::SemiBold) <= limit;
        let height = heights.iter().find(fits).or(heights.last());
        let height = height.copied().unwrap_or(HEADING);
        (
            height,
            within(&self.title, height, Face::SemiBold, limit, 2),
        )
    }

    /// Height of what the sheet shows: that of a heading where it takes one line, else that of notes.
    fn height_of_shows(&self, limit: f64) -> f64 {
        match width(&self.shows, HEADING, Face::Regular) <= limit {
            true => HEADING,
            false => NOTE,
        }
    }

    /// What the sheet shows, from the start of its first baseline on, in at most so many lines.
    fn shows_from(&self, items: &mut Vec<Item>, from: Pt, limit: f64, most: usize) {
        let height = self.height_of_shows(limit);
        let lines = within(&self.shows, height, Face::Regular, limit, most);
        for (i, line) in lines.iter().enumerate() {
            let at = from.moved(0.0, SHOWS * i as f64);
            items.push(pen::text(at, height, Anchor::Start, line));
        }
    }
}

/// Least distance between the baselines of a bold line and of a regular one under it, each with its
/// height, so that tails and accents keep apart.
fn apart((over, high): (&str, f64), (under, low): (&str, f64)) -> f64 {
    const CLEAR: f64 = 0.4;
    let (_, Mm(hangs)) = font::rise_and_hang(Face::SemiBold, Mm(high), over);
    let (Mm(rises), _) = font::rise_and_hang(Face::Regular, Mm(low), under);
    hangs + CLEAR + rises
}

/// The box of a block.
fn boxed(room: Rect) -> Item {
    let heavy = pen::solid(LineWidth::W70, Colour::BLACK);
    let at = Pt::new(room.left, room.top);
    let (wide, high) = (room.width(), room.height());
    pen::rect(at, wide, high, Some(heavy), Some(Colour::WHITE))
}

/// Words in at most so many lines, the last cut short where they take more.
fn within(words: &str, height: f64, face: Face, limit: f64, most: usize) -> Vec<String> {
    let mut lines = wrap(words, height, face, limit);
    if lines.len() > most {
        let rest = lines.split_off(most - 1).join(" ");
        lines.push(fitted(&rest, height, face, limit));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a sheet shows, its units and its paper are said whole, in the narrowest block.
    #[test]
    fn nothing_that_the_program_writes_is_cut_short() {
        let block = TitleBlock {
            title: "Rear garden landing".to_string(),
            shows: "Set-out and levels; Survey; Panels and cutting list; Hold points; \
                    Hours and prices; Checks and other notes"
                .to_string(),
            paper: "Tabloid".to_string(),
            units: "Feet and inches; levels in feet".to_string(),
            sheet: (2, 4),
            ..TitleBlock::default()
        };
        let corner = Pt::new(90.0, block.height());
        let foot = |turned| {
            let Standing::Foot(high) = block.standing(Paper::A4, turned) else {
                panic!("a small sheet has it along its foot");
            };
            (Paper::A4, Pt::new(Paper::A4.frame(turned).width(), high))
        };
        for (paper, to) in [
            (Paper::A3, corner),
            foot(Orientation::Portrait),
            foot(Orientation::Landscape),
        ] {
            let room = Rect::between(Pt::default(), to);
            let drawn = block.draw(room, paper);
            let words: Vec<String> = drawn
                .iter()
                .filter_map(|item| match item {
                    Item::Text(text) => Some(text.text.clone()),
                    _ => None,
                })
                .collect();
            assert!(words.iter().all(|w| !w.contains('…')), "{words:?}");
            assert!(words.join(" ").contains(&block.shows));
            assert!(words.contains(&block.units));
            let heights = drawn.iter().filter_map(|item| match item {
                Item::Text(text) => Some(text.at.y),
                _ => None,
            });
            assert!(heights.fold(0.0, f64::max) < room.bottom, "{words:?}");
        }
    }

    /// The tail of a g in the title is clear of the accent of an À under it.
    #[test]
    fn tails_and_accents_keep_apart() {
        let block = TitleBlock {
            title: "Landing".to_string(),
            shows: "Àg; ".repeat(12),
            ..TitleBlock::default()
        };
        let (paper, turned) = (Paper::A4, Orientation::Portrait);
        let Standing::Foot(high) = block.standing(paper, turned) else {
            panic!("a small sheet has it along its foot");
        };
        let room = Rect::between(Pt::default(), Pt::new(paper.frame(turned).width(), high));
        let drawn = block.draw(room, paper);
        let ink = |begins: &str| {
            let found = drawn.iter().find_map(|item| match item {
                Item::Text(text) if text.text.starts_with(begins) => Some(text),
                _ => None,
            });
            let text = found.expect("it is drawn");
            let ink = font::ink(text.face, text.height, &text.text).expect("it has ink");
            [text.at.y + ink.top, text.at.y + ink.bottom]
        };
        assert!(ink("Landing")[1] + 0.3 < ink("À")[0]);
    }
}
