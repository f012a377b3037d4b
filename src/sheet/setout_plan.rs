//! The sheet of set-out and levels: a plan with the base line and the stakes, and the tables.
//!
//! In: design, the general plan, the tables. Out: a further sheet.

use super::column::Block;
use super::content::FurtherSheet;
use super::model::{AngleMark, PlanModel, Setout, StakeMark};
use super::plan_marks::setout::{BASE_LINE, STRING, end_sign, face_sign, stake_sign};
use super::table::{SYMBOL_HEIGHT, SYMBOL_WIDTH};
use super::words::long;
use super::{pen, theme};
use crate::design::{CornerAngle, Design};
use crate::draw::{Item, Pt, Stroke};
use crate::language::{Languages, say};
use crate::levels::Held;
use crate::units::print;

/// The sheet: its plan, the key to its signs, and its tables.
pub fn sheet(design: &Design, general: &PlanModel, tables: Vec<Block>) -> FurtherSheet {
    let setout = setout(design);
    let languages = design.job.sheet.languages;
    let mut blocks = vec![signs(&setout, languages)];
    blocks.extend(tables);
    FurtherSheet {
        name: say!(languages, "Set-out and levels"),
        plan: Some(PlanModel {
            setout: Some(setout),
            radii: general.radii.clone(),
            ..theme::common(general)
        }),
        blocks,
        ..FurtherSheet::default()
    }
}

fn setout(design: &Design) -> Setout {
    let [(a, from), (b, to)] = &design.base_line;
    let length = long(design, from.distance(*to));
    let set = design.field.stakes.as_ref();
    let stakes = set.into_iter().flat_map(|set| {
        set.stakes
            .iter()
            .zip(&set.names)
            .map(|((_, stake), name)| StakeMark {
                name: name.clone(),
                corner: stake.corner,
                at: stake.at,
                held: stake.held,
            })
    });
    Setout {
        base_line: design.base_line.clone(),
        words: say!(
            design.job.sheet.languages,
            "base line {a} to {b}: {length}",
            a = a,
            b = b,
            length = length
        ),
        stakes: stakes.collect(),
        angles: design.field.angles.iter().map(angle_mark).collect(),
    }
}

fn angle_mark(angle: &CornerAngle) -> AngleMark {
    AngleMark {
        at: angle.at,
        sides: angle.sides,
        lengths: angle.lengths,
        degrees: angle.degrees,
        words: format!("{}°", print::number(angle.degrees, 1)),
    }
}

/// The key to the marks of this sheet.
fn signs(setout: &Setout, languages: Languages) -> Block {
    let middle = Pt::new(SYMBOL_WIDTH / 2.0, SYMBOL_HEIGHT / 2.0);
    let across = |stroke: Stroke| {
        pen::line(
            Pt::new(0.6, middle.y),
            Pt::new(SYMBOL_WIDTH - 1.0, middle.y),
            stroke,
        )
    };
    let mut base_line: Vec<Item> = vec![across(BASE_LINE)];
    base_line.extend(end_sign(Pt::new(2.4, middle.y)));
    let mut rows = vec![(base_line, say!(languages, "Base line and its end"))];
    let any = |held| setout.stakes.iter().any(|stake| stake.held == held);
    if !setout.stakes.is_empty() {
        rows.push((
            vec![across(STRING)],
            say!(languages, "String along the edge produced"),
        ));
    }
    if any(Held::Stake) {
        rows.push((stake_sign(middle), say!(languages, "Stake")));
    }
    if any(Held::Face) {
        rows.push((face_sign(middle), say!(languages, "Mark on the wall")));
    }
    Block::signs(say!(languages, "Signs on this plan"), rows)
}
