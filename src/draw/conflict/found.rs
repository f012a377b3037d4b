//! What the check of a display list finds, and how it is said.
//!
//! Places are in paper millimetres, y down.

use std::fmt;

use super::WIDTHS;
use crate::draw::paper::Pt;
use crate::language::{Phrase, phrase};

/// A text that cannot be read, or a view that is hard to read; `at` is where on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Conflict {
    /// It leaves the part of the sheet that prints.
    OffSheet {
        /// What it says.
        text: String,
        /// The corner that is off.
        at: Pt,
    },
    /// It leaves the clip of a group around it.
    Clipped {
        /// What it says.
        text: String,
        /// The corner that is cut off.
        at: Pt,
    },
    /// It meets another text.
    Overlap {
        /// What the one says.
        text: String,
        /// What the other says.
        other: String,
        /// The anchor of the one.
        at: Pt,
    },
    /// A visible line, or the edge of a tint, crosses it.
    Struck {
        /// What it says.
        text: String,
        /// Id of the innermost group of the line.
        by: String,
        /// Where it is crossed.
        at: Pt,
    },
    /// A visible line runs too near to it.
    Close {
        /// What it says.
        text: String,
        /// Id of the innermost group of the line.
        by: String,
        /// Where the line is near.
        at: Pt,
    },
    /// A fill painted later covers it.
    Covered {
        /// What it says.
        text: String,
        /// Id of the innermost group of the fill.
        by: String,
        /// Where it is covered.
        at: Pt,
    },
    /// Its capitals are lower than lettering may be.
    Low {
        /// What it says.
        text: String,
        /// Its anchor.
        at: Pt,
    },
    /// A view has more line widths than can be told apart.
    Widths {
        /// The view: the first word of its groups' ids.
        view: String,
        /// How many widths it has.
        count: usize,
    },
}

impl Conflict {
    /// Where on paper it is; none for a whole view.
    pub fn at(&self) -> Option<Pt> {
        match self {
            Conflict::OffSheet { at, .. }
            | Conflict::Clipped { at, .. }
            | Conflict::Overlap { at, .. }
            | Conflict::Struck { at, .. }
            | Conflict::Close { at, .. }
            | Conflict::Covered { at, .. }
            | Conflict::Low { at, .. } => Some(*at),
            Conflict::Widths { .. } => None,
        }
    }
}

impl Conflict {
    /// What is wrong and where, in words.
    pub fn phrase(&self) -> Phrase {
        let what = match self {
            Conflict::OffSheet { text, .. } => phrase!("`{text}` leaves the sheet", text),
            Conflict::Clipped { text, .. } => phrase!("`{text}` leaves its view", text),
            Conflict::Overlap { text, other, .. } => {
                phrase!("`{text}` meets `{other}`", text, other)
            }
            Conflict::Struck { text, by, .. } => {
                phrase!("a line of `{by}` crosses `{text}`", by, text)
            }
            Conflict::Close { text, by, .. } => {
                phrase!("a line of `{by}` is close to `{text}`", by, text)
            }
            Conflict::Covered { text, by, .. } => {
                phrase!("a fill of `{by}` covers `{text}`", by, text)
            }
            Conflict::Low { text, .. } => phrase!("`{text}` is lettered too low", text),
            Conflict::Widths { view, count } => phrase!(
                "{count} line width in view `{view}`, at most {most} wanted | {count} line widths in view `{view}`, at most {most} wanted",
                count = *count,
                view,
                most = WIDTHS
            ),
        };
        match self.at() {
            Some(at) => phrase!(
                "{what} at ({x}, {y})",
                what,
                x = format!("{:.1}", at.x),
                y = format!("{:.1}", at.y)
            ),
            None => what,
        }
    }
}

impl fmt::Display for Conflict {
    /// The English words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.phrase().fmt(f)
    }
}

/// A conflict of a set of sheets: a fault of the program, since no job can ask for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Defect {
    /// Number of the sheet, from 1.
    pub sheet: usize,
    /// What is wrong on it.
    pub conflict: Conflict,
}

impl Defect {
    /// The sheet, and what is wrong on it, in words.
    pub fn phrase(&self) -> Phrase {
        phrase!(
            "sheet {number}: {what}",
            number = self.sheet,
            what = self.conflict.phrase()
        )
    }
}

impl fmt::Display for Defect {
    /// The English words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.phrase().fmt(f)
    }
}
