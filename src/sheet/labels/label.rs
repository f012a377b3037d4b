//! Blocks of words: lines of one height, measured and drawn.
//!
//! Paper millimetres, y down.

use super::request::Candidate;
use super::turned::Box2;
use crate::draw::{Anchor, Face, Item, Pt};
use crate::sheet::lettering::{self, width};
use crate::sheet::pen;

/// A block of words: lines of one height, set one below the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The lines.
    pub lines: Vec<String>,
    /// Capital height.
    pub height: f64,
    /// The face.
    pub face: Face,
    /// A rule between the first line and the second, as between finish and formation.
    pub ruled: bool,
}

impl Label {
    /// One line of regular notes.
    pub fn note(words: &str) -> Self {
        Self {
            lines: vec![words.to_string()],
            height: lettering::NOTE,
            face: Face::Regular,
            ruled: false,
        }
    }

    /// Width and height of the block.
    pub fn size(&self) -> (f64, f64) {
        let wide = self
            .lines
            .iter()
            .map(|line| width(line, self.height, self.face))
            .fold(0.0, f64::max);
        let pitch = self.pitch();
        (
            wide,
            self.height * 1.44 + pitch * (self.lines.len().max(1) - 1) as f64,
        )
    }

    fn pitch(&self) -> f64 {
        self.height * if self.ruled { 1.9 } else { 1.6 }
    }

    /// The box of the block centred at a point.
    pub fn box_at(&self, centre: Pt) -> Box2 {
        let (wide, high) = self.size();
        Box2 {
            centre,
            half: wide / 2.0,
            rise: high / 2.0,
            angle: 0.0,
        }
    }

    /// The marks of the block at its place, with the leader that brings it there.
    pub fn placed(&self, place: &Candidate) -> Vec<Item> {
        let mut items = Vec::new();
        if !place.leader.is_empty() {
            items.push(pen::polyline(&place.leader, pen::FINE));
        }
        items.extend(self.drawn(place.bounds().centre));
        items
    }

    /// The marks of the block centred at a point.
    pub fn drawn(&self, centre: Pt) -> Vec<Item> {
        let (wide, high) = self.size();
        let mut items = Vec::new();
        for (i, line) in self.lines.iter().enumerate() {
            let base = centre.y - high / 2.0 + self.height * 1.12 + self.pitch() * i as f64;
            items.push(pen::lettered(
                Pt::new(centre.x, base),
                0.0,
                self.height,
                self.face,
                Anchor::Middle,
                line,
            ));
        }
        if self.ruled && self.lines.len() > 1 {
            let y = centre.y - high / 2.0 + self.height * 1.12 + self.pitch() * 0.24;
            items.push(pen::line(
                Pt::new(centre.x - wide / 2.0, y),
                Pt::new(centre.x + wide / 2.0, y),
                pen::FINE,
            ));
        }
        items
    }
}
