//! How marks look: line widths of the ISO 128 series, dashes as multiples of the width, colours
//! and faces.

/// A line width of the ISO 128 series.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineWidth {
    /// 0.13 mm: hatches.
    W13,
    /// 0.18 mm: dimensions, unit joints.
    W18,
    /// 0.25 mm: unit outlines, hidden lines.
    W25,
    /// 0.35 mm: boundaries.
    W35,
    /// 0.5 mm: outlines in view.
    W50,
    /// 0.7 mm: cut outlines, frame.
    W70,
}

impl LineWidth {
    /// The width in millimetres on paper.
    pub const fn mm(self) -> f64 {
        match self {
            LineWidth::W13 => 0.13,
            LineWidth::W18 => 0.18,
            LineWidth::W25 => 0.25,
            LineWidth::W35 => 0.35,
            LineWidth::W50 => 0.5,
            LineWidth::W70 => 0.7,
        }
    }
}

/// A dash pattern; lengths are multiples of the line width (ISO 128: dash 12, long dash 24,
/// gap 3, dot at most 0.5).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the standard's word itself")]
pub enum Dash {
    #[default]
    Continuous,
    Dashed,
    LongDashDot,
    LongDashDoubleDot,
    Dotted,
}

impl Dash {
    /// Lengths of dash, gap, dash, gap … as multiples of the line width; empty for a continuous
    /// line.
    ///
    /// # Source
    /// ISO 128: dash 12, long dash 24, gap 3, dot at most 0.5.
    pub const fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Continuous => &[],
            Dash::Dashed => &[12.0, 3.0],
            Dash::LongDashDot => &[24.0, 3.0, 0.5, 3.0],
            Dash::LongDashDoubleDot => &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0],
            Dash::Dotted => &[0.5, 3.0],
        }
    }
}

/// An opaque sRGB colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// Black.
    pub const BLACK: Colour = Colour(0, 0, 0);
    /// White: the paper, and what knocks lines out behind text.
    pub const WHITE: Colour = Colour(255, 255, 255);

    /// Relative luminance, from 0 for black to 1 for white.
    ///
    /// # Source
    /// Web Content Accessibility Guidelines 2.1, definition of relative luminance.
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.linear();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Red, green and blue as amounts of light, each from 0 to 1.
    ///
    /// # Source
    /// IEC 61966-2-1 (sRGB), with the threshold 0.03928 of the guidelines.
    pub fn linear(self) -> [f64; 3] {
        [self.0, self.1, self.2].map(|value| {
            let c = f64::from(value) / 255.0;
            if c <= 0.03928 {
                c / 12.92
            } else {
                libm::pow((c + 0.055) / 1.055, 2.4)
            }
        })
    }
}

/// A stroked line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its width.
    pub width: LineWidth,
    /// Its dashes.
    pub dash: Dash,
    /// Its colour.
    pub colour: Colour,
}

/// A face of the bundled family.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the word itself")]
pub enum Face {
    Regular,
    SemiBold,
}
