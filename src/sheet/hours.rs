//! The hours as a picture: one bar per operation along the crew's working days.
//!
//! In: person-hours by operation in the order of work, the crew and its day. Out: a drawn entry of
//! a block. The bars follow one another, as [`crate::crew`] counts them: operations that can run
//! side by side are not overlapped.
//!
//! Paper millimetres, y down.

use super::column::Entry;
use super::lettering::{NOTE, PITCH, width, wrap};
use super::pen;
use crate::crew::{CrewSpec, Hours, operation};
use crate::draw::{Anchor, Colour, Dash, Face, Item, LineWidth, Pt};
use crate::language::{Languages, say};
use crate::units::print;

/// Height of a row.
const ROW: f64 = NOTE * PITCH + 0.6;
/// Height of a bar.
const BAR: f64 = 2.6;
/// Breadth of the column of hours.
const FIGURES: f64 = 13.0;
/// Most of the breadth that the names take.
const NAMES: f64 = 0.46;
/// Clear breadth right of the axis.
const END: f64 = 1.0;
/// Closest that the marks of two days stand.
const CLOSEST: f64 = 5.0;

/// Draws the bars in a block of that width.
pub fn bars(hours: &Hours, crew: &CrewSpec, wide: f64, languages: Languages) -> Entry {
    let rows: Vec<(String, f64)> = hours
        .by_operation
        .iter()
        .map(|each| {
            let operation = operation(each.name);
            let words = operation.map(|operation| (operation.what)().say(languages));
            (words.unwrap_or_else(|| each.name.to_string()), each.hours)
        })
        .collect();
    let names = rows
        .iter()
        .map(|(words, _)| width(words, NOTE, Face::Regular))
        .fold(0.0, f64::max)
        .min(wide * NAMES);
    let axis = Axis {
        left: names + FIGURES + 3.0,
        right: wide - END,
        days: hours.days,
        words: say!(languages, "days"),
    };
    let top = 2.0 * ROW + 1.0;
    let rows: Vec<(Vec<String>, f64)> = rows
        .into_iter()
        .map(|(words, spent)| (wrap(&words, NOTE, Face::Regular, names), spent))
        .collect();
    let lines: usize = rows.iter().map(|(lines, _)| lines.len().max(1)).sum();
    let foot = top + ROW * lines as f64 + 0.5;
    let mut items = axis.marks(top, foot);
    items.push(pen::bold(
        Pt::new(names + FIGURES, ROW + NOTE + 0.4),
        NOTE,
        Anchor::End,
        &say!(languages, "hours"),
    ));
    let day = f64::from(crew.people) * crew.day;
    let mut done = 0.0;
    let mut y = top;
    for (lines, spent) in &rows {
        let base = y + NOTE + 0.5;
        for (i, line) in lines.iter().enumerate() {
            let at = Pt::new(0.0, base + ROW * i as f64);
            items.push(pen::text(at, NOTE, Anchor::Start, line));
        }
        items.push(pen::text(
            Pt::new(names + FIGURES, base),
            NOTE,
            Anchor::End,
            &print::number(*spent, 1),
        ));
        let [from, to] = [done, done + spent].map(|h| axis.at(h / day));
        items.push(pen::rect(
            Pt::new(from, y + (ROW - BAR) / 2.0),
            (to - from).max(0.2),
            BAR,
            Some(pen::FINE),
            Some(Colour(150, 160, 168)),
        ));
        done += spent;
        y += ROW * lines.len().max(1) as f64;
    }
    Entry::Drawing {
        height: foot + 1.5,
        items,
    }
}

/// The axis of days.
struct Axis {
    left: f64,
    right: f64,
    /// Days worked.
    days: f64,
    /// What it counts.
    words: String,
}

impl Axis {
    /// Where a moment stands, in days from the start.
    fn at(&self, day: f64) -> f64 {
        self.left + (self.right - self.left) * day / self.end()
    }

    /// The whole days that the work takes, but for what is less than a tenth.
    fn end(&self) -> f64 {
        (self.days - 0.05).ceil().max(self.days).max(1.0)
    }

    /// Numbers of the days gone, or of every so many where they would crowd, over a line at the end
    /// of each.
    fn marks(&self, top: f64, foot: f64) -> Vec<Item> {
        let apart = (self.right - self.left) / self.end();
        let mut every = 1.0;
        while apart * every < CLOSEST {
            every *= if every == 1.0 || every == 10.0 || every == 100.0 {
                5.0
            } else {
                2.0
            };
        }
        let dashed = pen::dashed(LineWidth::W18, Dash::Dashed, pen::GREY);
        let mut items = vec![pen::line(
            Pt::new(self.left, top),
            Pt::new(self.left, foot),
            pen::FINE,
        )];
        items.push(pen::bold(
            Pt::new(self.left, NOTE + 0.4),
            NOTE,
            Anchor::Start,
            &self.words,
        ));
        let mut day = 0.0;
        while day <= self.end() + 1e-9 {
            let x = self.at(day);
            if day > 0.0 {
                items.push(pen::line(Pt::new(x, top), Pt::new(x, foot), dashed));
            }
            let words = print::number(day, 0);
            // The last number ends where the block does.
            let half = width(&words, NOTE, Face::Regular) / 2.0;
            let x = x.min(self.right + END - half);
            let at = Pt::new(x, ROW + NOTE + 0.4);
            items.push(pen::text(at, NOTE, Anchor::Middle, &words));
            day += every;
        }
        items
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::crew::{OperationHours, RateUnit};
    use std::collections::BTreeMap;

    /// Hours of some operations, worked by three people of 8 h a day.
    fn sample(spent: &[(&'static str, f64)]) -> (Hours, CrewSpec) {
        let by_operation = spent.iter().map(|(name, hours)| OperationHours {
            name,
            quantity: 1.0,
            unit: RateUnit::Job,
            rate: *hours,
            assumed: true,
            hours: *hours,
        });
        let total: f64 = spent.iter().map(|(_, hours)| hours).sum();
        let hours = Hours {
            by_operation: by_operation.collect(),
            absent: Vec::new(),
            total,
            days: total / 24.0,
        };
        let crew = CrewSpec {
            people: 3,
            day: 8.0,
            rates: BTreeMap::new(),
        };
        (hours, crew)
    }

    /// Every operation is named whole, in as many lines as it takes.
    #[test]
    fn names_are_whole() {
        let (hours, crew) = sample(&[("dig", 1.0)]);
        let Entry::Drawing { items, .. } = bars(&hours, &crew, 60.0, Languages::default()) else {
            panic!("a drawing");
        };
        let words: Vec<String> = items
            .iter()
            .filter_map(|item| match item {
                Item::Text(text) => Some(text.text.clone()),
                _ => None,
            })
            .collect();
        let whole = (operation("dig").expect("an operation").what)().to_string();
        assert!(words.join(" ").contains(&whole), "{words:?}");
    }

    /// Every day is numbered, the first and the last too.
    #[test]
    fn every_day_of_a_short_job_is_numbered() {
        for (worked, last) in [(0.98, 1), (1.7, 2), (3.04, 3)] {
            let axis = Axis {
                left: 60.0,
                right: 87.0,
                days: worked,
                words: "days".to_string(),
            };
            let items = axis.marks(9.0, 60.0);
            let numbers = items.iter().filter_map(|item| match item {
                Item::Text(text) => text.text.parse::<i32>().ok(),
                _ => None,
            });
            let wanted: Vec<i32> = (0..=last).collect();
            assert_eq!(numbers.collect::<Vec<i32>>(), wanted, "{worked}");
        }
    }

    /// The bars follow one another and fill the axis: their lengths add up to it.
    #[test]
    fn bars_fill_the_days() {
        let spent = [("dig", 12.0), ("panels", 6.0), ("pavers", 30.0)];
        let (hours, crew) = sample(&spent);
        let Entry::Drawing { items, .. } = bars(&hours, &crew, 112.0, Languages::default()) else {
            panic!("a drawing");
        };
        let mut ends = Vec::new();
        for item in &items {
            if let Item::Path(path) = item
                && path.fill.is_some()
            {
                let xs: Vec<f64> = path
                    .outline
                    .iter()
                    .filter_map(|step| match step {
                        crate::draw::Step::Move(p) | crate::draw::Step::Line(p) => Some(p.x),
                        _ => None,
                    })
                    .collect();
                let low = xs.iter().copied().fold(f64::INFINITY, f64::min);
                let high = xs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                ends.push((low, high));
            }
        }
        assert_eq!(ends.len(), 3);
        assert!((ends[0].1 - ends[1].0).abs() < 1e-9 && (ends[1].1 - ends[2].0).abs() < 1e-9);
        let unit = (ends[2].1 - ends[0].0) / 48.0;
        for ((low, high), (_, hours)) in ends.iter().zip(&spent) {
            assert!((high - low - hours * unit).abs() < 1e-9);
        }
    }
}
