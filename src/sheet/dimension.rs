//! Dimensions: chains of linear dimensions with extension lines, oblique ticks and text above the
//! line.
//!
//! In: feature points on paper, the words of each span and where the dimension line runs. Out:
//! items, with text boxes and lines taken from the room for labels. Method: ISO 129-1 customs of
//! building drawings: extension line with a gap of 1.5 mm and an overrun of 2 mm, which begins clear
//! of the outlines that it would cross or run along, 45° ticks, first line 10 mm from the outline,
//! text readable from below or from the right. A span that is
//! narrower than its words sets them outside the chain's end, or beyond the overrun on a line that
//! ties them to their span.

use super::labels::{Ask, Box2, Candidate, Keyed, Otherwise, Request, Taken, settle};
use super::lettering::{NOTE, width};
use super::pen;
use crate::draw::{Anchor, Face, Item, Mm, Pt, font};
use crate::language::{Phrase, phrase};

/// Distance of the first dimension line from the outline.
pub const FIRST: f64 = 10.0;
/// Distance between neighbouring dimension lines.
pub const NEXT: f64 = 7.5;
/// Gap between feature and extension line.
const GAP: f64 = 1.5;
/// Extension line past the dimension line.
const OVERRUN: f64 = 2.0;
/// Half the length of a tick along each axis.
const TICK: f64 = 1.1;
/// Radius of the circle at the origin of running dimensions.
const ORIGIN: f64 = 0.9;
/// Length of the arrow heads of running dimensions.
const HEAD: f64 = 2.4;
/// Clear height between line and text.
const CLEAR: f64 = 1.0;

/// Where running dimensions count from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A feature.
    At(usize),
    /// Beyond the first or the last feature, which is where the line is cut off.
    Beyond(usize),
}

impl Origin {
    /// The feature that the spans count away from.
    fn feature(self) -> usize {
        match self {
            Origin::At(feature) | Origin::Beyond(feature) => feature,
        }
    }
}

/// A chain of dimensions along one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// The features, in order along the line: one more than there are words.
    pub features: Vec<Pt>,
    /// The words of each span.
    pub words: Vec<String>,
    /// A point on the dimension line.
    pub on: Pt,
    /// Unit direction of the line, from the first feature to the last.
    pub along: (f64, f64),
    /// Where each span is, in words, for the table of what finds no place; may be empty.
    pub places: Vec<Phrase>,
    /// For running dimensions the feature they count from: each span's words then stand at its end
    /// away from there, an arrow head on that end, and a circle at the origin.
    pub origin: Option<Origin>,
    /// How far from each feature what its extension line must keep clear of ends, along that line;
    /// none where another chain draws the line. Empty: the features themselves.
    pub clear_of: Vec<Option<f64>>,
}

impl Chain {
    /// Where the dimension line meets the extension line of a feature.
    fn foot(&self, feature: Pt) -> Pt {
        let (dx, dy) = self.along;
        let t = (feature.x - self.on.x) * dx + (feature.y - self.on.y) * dy;
        Pt::new(self.on.x + dx * t, self.on.y + dy * t)
    }

    /// Where the dimension line meets the extension lines, feature by feature.
    pub fn feet(&self) -> Vec<Pt> {
        self.features.iter().map(|f| self.foot(*f)).collect()
    }

    /// Angle of the text in degrees, over -90 up to 90, anticlockwise as seen.
    fn angle(&self) -> f64 {
        let (dx, dy) = self.along;
        let angle = -libm::atan2(dy, dx).to_degrees();
        let snapped = (angle * 1e6).round() / 1e6;
        if snapped > 90.0 {
            snapped - 180.0
        } else if snapped <= -90.0 + 1e-6 {
            snapped + 180.0
        } else {
            snapped
        }
    }

    /// Draws the chain by itself and takes its text and lines; words that find no place come back
    /// as rows of the keyed table.
    pub fn draw(&self, taken: &mut Taken) -> (Vec<Item>, Vec<Keyed>) {
        let mut items = self.lines(taken);
        let settled = settle(taken, self.asks());
        items.extend(settled.items.into_iter().map(|(_, item)| item));
        (items, settled.keyed)
    }

    /// Dimension line, extension lines and ticks. Where several chains stand on one side, the
    /// lines of all come before the words of any, so that no words are struck through.
    pub fn lines(&self, taken: &mut Taken) -> Vec<Item> {
        let feet = self.feet();
        let (Some(first), Some(last)) = (feet.first(), feet.last()) else {
            return Vec::new();
        };
        let mut items = vec![pen::line(*first, *last, pen::FINE)];
        taken.add_line([*first, *last], 3.0);
        for (index, (feature, foot)) in self.features.iter().zip(&feet).enumerate() {
            if self.origin == Some(Origin::Beyond(index)) {
                continue;
            }
            let ends = self.clear_of.get(index).copied().unwrap_or(Some(0.0));
            if let Some(ends) = ends {
                items.extend(extension(*feature, *foot, ends, taken));
            }
            items.extend(self.terminator(index, *foot, taken));
        }
        items
    }

    /// A tick, or for running dimensions an arrow head that points away from the origin's circle.
    fn terminator(&self, index: usize, foot: Pt, taken: &mut Taken) -> Vec<Item> {
        let stroke = pen::solid(crate::draw::LineWidth::W35, crate::draw::Colour::BLACK);
        let (dx, dy) = self.along;
        match self.origin {
            None => {
                // The tick rises to the right as seen when the text is read.
                let turn = (self.angle() + 45.0).to_radians();
                let (dx, dy) = (libm::cos(turn) * TICK * 1.4, -libm::sin(turn) * TICK * 1.4);
                let tick = [foot.moved(-dx, -dy), foot.moved(dx, dy)];
                taken.add_line(tick, 3.0);
                vec![pen::line(tick[0], tick[1], stroke)]
            }
            Some(origin) if origin == Origin::At(index) => {
                taken.add_mark(Box2 {
                    centre: foot,
                    half: ORIGIN + 0.2,
                    rise: ORIGIN + 0.2,
                    angle: 0.0,
                });
                vec![pen::circle(
                    foot,
                    ORIGIN,
                    Some(stroke),
                    Some(crate::draw::Colour::WHITE),
                )]
            }
            Some(origin) => {
                let way = if index > origin.feature() {
                    -HEAD
                } else {
                    HEAD
                };
                let neck = foot.moved(dx * way, dy * way);
                let (px, py) = (-dy * HEAD / 3.0, dx * HEAD / 3.0);
                // Words keep clear of the head, which is higher than the line.
                taken.add_mark(Box2 {
                    centre: Pt::new((neck.x + foot.x) / 2.0, (neck.y + foot.y) / 2.0),
                    half: HEAD / 2.0,
                    rise: HEAD / 3.0 + 0.1,
                    angle: self.angle(),
                });
                vec![pen::polygon(
                    &[foot, neck.moved(px, py), neck.moved(-px, -py)],
                    None,
                    Some(crate::draw::Colour::BLACK),
                )]
            }
        }
    }

    /// The words of every span, asking for their places.
    pub fn asks(&self) -> Vec<Ask> {
        let feet = self.feet();
        self.words
            .iter()
            .enumerate()
            .filter_map(|(i, words)| {
                let pair = feet.get(i..i + 2)?;
                Some(self.ask(i, words, [pair[0], pair[1]]))
            })
            .collect()
    }

    /// The words of one span: above the middle of the line, past the end of the chain, or higher.
    fn ask(&self, index: usize, words: &str, span: [Pt; 2]) -> Ask {
        let long = width(words, NOTE, Face::Regular);
        // Brackets and fractions reach below the baseline.
        let drop = drop_of(words);
        let clear = CLEAR.max(drop + CLEAR - REACH.1 * NOTE);
        let angle = self.angle();
        let radians = angle.to_radians();
        // Along the reading direction, and up as read.
        let read = (libm::cos(radians), -libm::sin(radians));
        let up = (-libm::sin(radians), -libm::cos(radians));
        let middle = Pt::new((span[0].x + span[1].x) / 2.0, (span[0].y + span[1].y) / 2.0);
        let at = |along: f64, rise: f64| {
            middle.moved(read.0 * along + up.0 * rise, read.1 * along + up.1 * rise)
        };
        let room = span[0].distance(span[1]);
        // Running dimensions stand at the end of their span, others at its middle.
        let end = self
            .origin
            .map(|origin| span[usize::from(index >= origin.feature())]);
        let end = end.map_or(0.0, |end| {
            (end.x - middle.x) * read.0 + (end.y - middle.y) * read.1
        });
        // Each place: along the line, above it, what it costs.
        let mut places: Vec<(f64, f64, f64)> = Vec::new();
        // Clear of a tick, or of the head or the circle at an end.
        let ends = if self.origin.is_some() {
            HEAD + 0.5
        } else {
            0.8
        };
        if room > long + 2.0 * ends {
            let spare = (room - long) / 2.0 - ends;
            let best = spare * end.signum() * f64::from(u8::from(self.origin.is_some()));
            for share in [0.0, -0.5, 0.5, -1.0, 1.0] {
                let along = spare * share;
                places.push((along, clear, (along - best).abs() * 0.05));
            }
        }
        // Whether the chain's direction is the reading direction.
        let forward = self.along.0 * read.0 + self.along.1 * read.1 > 0.0;
        let beyond = room / 2.0 + OVERRUN + long / 2.0;
        if index == 0 {
            places.push((if forward { -beyond } else { beyond }, clear, 2.0));
        }
        if index + 1 == self.words.len() {
            places.push((if forward { beyond } else { -beyond }, clear, 2.0));
        }
        for (step, rise) in [OVERRUN + clear, -(OVERRUN + CLEAR + NOTE)]
            .into_iter()
            .enumerate()
        {
            for (rank, share) in [0.0, -0.5, 0.5, -1.0, 1.0, -1.6, 1.6]
                .into_iter()
                .enumerate()
            {
                places.push((
                    end + long * share,
                    rise,
                    4.0 + step as f64 + rank as f64 * 0.6,
                ));
            }
        }
        let candidates = places
            .into_iter()
            .map(|(along, rise, cost)| {
                let bounds = words_box(at(along, rise), angle, words, drop);
                let mut candidate = Candidate::bare(bounds, cost);
                // Words that reach over their span need no line to it.
                let beside = (along - end).abs() > long / 2.0 + 1.0 || rise == clear;
                if along.abs() > room / 2.0 && beside {
                    // A line under the words, or up to them, ties them to their span.
                    let to = if rise == clear {
                        at(along + long / 2.0 * along.signum(), 0.0)
                    } else {
                        at(
                            along - (long / 2.0 + 0.7) * along.signum(),
                            rise + NOTE / 2.0,
                        )
                    };
                    candidate.leader = vec![at(end, 0.0), to];
                }
                candidate
            })
            .collect();
        let lettered = words.to_string();
        Ask {
            request: Request {
                clear: 0.4,
                beside: 0.68,
                ..Request::new(WORTH, candidates)
            },
            layer: "dimensions",
            drawn: Box::new(move |candidate| {
                let mut items = Vec::new();
                if !candidate.leader.is_empty() {
                    items.push(pen::polyline(&candidate.leader, pen::FINE));
                }
                let base = base_of(candidate.bounds(), drop);
                let text = (NOTE, Face::Regular, Anchor::Middle);
                items.push(pen::lettered(
                    base, angle, text.0, text.1, text.2, &lettered,
                ));
                items
            }),
            otherwise: Otherwise::Key {
                at: middle,
                words: phrase!("Dimension {words}", words),
                place: self.places.get(index).cloned().unwrap_or_default(),
            },
        }
    }
}

/// The extension line from a feature, beyond what it must keep clear of, past the dimension line.
fn extension(feature: Pt, foot: Pt, ends: f64, taken: &mut Taken) -> Option<Item> {
    let (reach, from) = (feature.distance(foot), ends.max(0.0) + GAP);
    if reach <= from {
        return None;
    }
    let (ux, uy) = ((foot.x - feature.x) / reach, (foot.y - feature.y) / reach);
    let line = [
        feature.moved(ux * from, uy * from),
        foot.moved(ux * OVERRUN, uy * OVERRUN),
    ];
    taken.add_line(line, 2.0);
    Some(pen::line(line[0], line[1], pen::FINE))
}

/// How near an outline beside an extension line makes the two read as one.
const ALONG: f64 = 1.0;

/// How far from a feature the last of several outlines lies that its extension line to a foot would
/// cross, or run along nearer than a millimetre; 0 where there is none.
pub fn outlines_end(feature: Pt, foot: Pt, outlines: &[Vec<Pt>]) -> f64 {
    let reach = feature.distance(foot);
    if reach < 1e-9 {
        return 0.0;
    }
    let (ux, uy) = ((foot.x - feature.x) / reach, (foot.y - feature.y) / reach);
    // Along the extension line, and square from it.
    let local = |p: Pt| {
        let (dx, dy) = (p.x - feature.x, p.y - feature.y);
        (dx * ux + dy * uy, dx * uy - dy * ux)
    };
    let mut ends: f64 = 0.0;
    for ring in outlines {
        for (index, from) in ring.iter().enumerate() {
            let (a, b) = (local(*from), local(ring[(index + 1) % ring.len()]));
            let rise = b.1 - a.1;
            let mut span = [0.0_f64, 1.0];
            if rise.abs() > 1e-12 {
                let cuts = [(-ALONG - a.1) / rise, (ALONG - a.1) / rise];
                span = [
                    span[0].max(cuts[0].min(cuts[1])),
                    span[1].min(cuts[0].max(cuts[1])),
                ];
            } else if a.1.abs() > ALONG {
                continue;
            }
            if span[0] <= span[1] {
                let along = span.map(|t| a.0 + (b.0 - a.0) * t);
                ends = ends.max(along[0].max(along[1]));
            }
        }
    }
    ends
}

/// What a span without its words costs.
const WORTH: f64 = 2000.0;
/// Share of the capital height that figures and primes reach above the baseline, and least room
/// kept below it.
const REACH: (f64, f64) = (1.12, 0.12);

/// The box of a span's words, whose middle stands at a point of the baseline.
fn words_box(at: Pt, angle: f64, words: &str, drop: f64) -> Box2 {
    let up = (NOTE * REACH.0 - drop) / 2.0;
    let radians = angle.to_radians();
    Box2 {
        centre: at.moved(-up * libm::sin(radians), -up * libm::cos(radians)),
        half: width(words, NOTE, Face::Regular) / 2.0,
        rise: (NOTE * REACH.0 + drop) / 2.0,
        angle,
    }
}

/// The point of the baseline under the middle of such a box.
fn base_of(bounds: Box2, drop: f64) -> Pt {
    let up = (NOTE * REACH.0 - drop) / 2.0;
    let radians = bounds.angle.to_radians();
    bounds
        .centre
        .moved(up * libm::sin(radians), up * libm::cos(radians))
}

/// Room that words take below their baseline.
fn drop_of(words: &str) -> f64 {
    let ink = font::ink(Face::Regular, Mm(NOTE), words);
    ink.map_or(0.0, |ink| ink.bottom).max(NOTE * REACH.1)
}

#[cfg(test)]
mod tests;
