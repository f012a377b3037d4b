//! A cursor over the text of one value: signs, numbers with fractions, and units.
//!
//! In: text. Out: the pieces that [`read`](super::read) puts together. Typographic signs are
//! turned into plain ones first. Every step skips spaces before it.

/// A number without its sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Number {
    /// Its value.
    pub(super) value: f64,
    /// Whether it was written as a whole number.
    pub(super) whole: bool,
}

/// A place in the text of one value.
pub(super) struct Cursor {
    chars: Vec<char>,
    at: usize,
}

impl Cursor {
    /// At the start of `text`.
    pub(super) fn new(text: &str) -> Self {
        Self {
            chars: text.chars().map(plain).collect(),
            at: 0,
        }
    }

    /// The place itself, to come back to.
    pub(super) fn place(&self) -> usize {
        self.at
    }

    /// Back to an earlier place.
    pub(super) fn back_to(&mut self, place: usize) {
        self.at = place;
    }

    /// Whether nothing but spaces is left.
    pub(super) fn at_end(&mut self) -> bool {
        self.skip_spaces();
        self.at == self.chars.len()
    }

    /// 1 or −1 by the sign in front, which may be missing.
    pub(super) fn sign(&mut self) -> f64 {
        if self.mark('-') {
            return -1.0;
        }
        self.mark('+');
        1.0
    }

    /// Takes `mark` if it comes next.
    pub(super) fn mark(&mut self, mark: char) -> bool {
        self.skip_spaces();
        let here = self.peek() == Some(mark);
        if here {
            self.at += 1;
        }
        here
    }

    /// A number: `12`, `12.5`, `.5`, `1/2`, `12 1/2`, `12-1/2`, `12½`.
    pub(super) fn number(&mut self) -> Option<Number> {
        if let Some(value) = self.fraction() {
            return Some(Number {
                value,
                whole: false,
            });
        }
        let first = self.decimal()?;
        if !first.whole {
            return Some(first);
        }
        let start = self.at;
        self.mark('-');
        if let Some(part) = self.fraction() {
            return Some(Number {
                value: first.value + part,
                whole: false,
            });
        }
        self.at = start;
        Some(first)
    }

    /// The unit that comes next: one of `' " °`, or letters with what belongs to them (`ft`,
    /// `lb/ft3`); empty when neither comes. `³` and `^3` are given as `3`.
    pub(super) fn unit(&mut self) -> String {
        self.skip_spaces();
        if let Some(sign) = self.peek().filter(|c| matches!(c, '\'' | '"' | '°')) {
            self.at += 1;
            return sign.to_string();
        }
        let mut unit = String::new();
        while let Some(c) = self.peek() {
            match c {
                'a'..='z' | 'A'..='Z' => unit.push(c),
                '/' if !unit.is_empty() => unit.push(c),
                '2' | '²' if !unit.is_empty() => unit.push('2'),
                '3' | '³' if !unit.is_empty() => unit.push('3'),
                '^' if !unit.is_empty() => {}
                ' ' if unit.ends_with('/') => {}
                ' ' if self.rest_of_fraction_unit(&unit) => {}
                _ => break,
            }
            self.at += 1;
        }
        unit
    }

    /// Whether the spaces here stand before the `/` of a unit such as `lb / ft3`.
    fn rest_of_fraction_unit(&self, unit: &str) -> bool {
        !unit.is_empty()
            && self.chars[self.at..]
                .iter()
                .find(|c| **c != ' ')
                .is_some_and(|c| *c == '/')
    }

    /// A fraction, as a sign or as two whole numbers; stays put when there is none.
    fn fraction(&mut self) -> Option<f64> {
        self.skip_spaces();
        let start = self.at;
        if let Some(value) = self.peek().and_then(fraction_sign) {
            self.at += 1;
            return Some(value);
        }
        let found = self.two_numbers();
        if found.is_none() {
            self.at = start;
        }
        found
    }

    fn two_numbers(&mut self) -> Option<f64> {
        let above = self.decimal().filter(|n| n.whole)?;
        if !self.mark('/') {
            return None;
        }
        let below = self.decimal().filter(|n| n.whole && n.value > 0.0)?;
        Some(above.value / below.value)
    }

    fn decimal(&mut self) -> Option<Number> {
        self.skip_spaces();
        let start = self.at;
        self.skip_digits();
        let mut whole = true;
        if self.peek() == Some('.') && self.next_is_digit() {
            whole = false;
            self.at += 1;
            self.skip_digits();
        }
        let text: String = self.chars[start..self.at].iter().collect();
        let value = text.parse().ok()?;
        Some(Number { value, whole })
    }

    fn next_is_digit(&self) -> bool {
        self.chars
            .get(self.at + 1)
            .is_some_and(char::is_ascii_digit)
    }

    fn skip_digits(&mut self) {
        while self.peek().is_some_and(|c| c.is_ascii_digit()) {
            self.at += 1;
        }
    }

    fn skip_spaces(&mut self) {
        while self.peek() == Some(' ') {
            self.at += 1;
        }
    }

    fn peek(&self) -> Option<char> {
        self.chars.get(self.at).copied()
    }
}

/// Typographic signs as plain ones.
fn plain(c: char) -> char {
    match c {
        '′' | '’' | '‘' => '\'',
        '″' | '”' | '“' => '"',
        '−' | '–' | '‐' | '‑' => '-',
        '⁄' | '∕' => '/',
        'º' => '°',
        c if c.is_whitespace() => ' ',
        c => c,
    }
}

/// The value of a fraction sign.
fn fraction_sign(c: char) -> Option<f64> {
    let (above, below) = match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some(f64::from(above) / f64::from(below))
}
