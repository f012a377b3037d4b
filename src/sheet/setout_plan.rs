//! The sheet of set-out and levels: a plan with the base line and the stakes, and the tables.
//!
//! In: design, the general plan, the tables. Out: a further sheet.

use std::sync::Arc;

use super::column::Block;
use super::content::FurtherSheet;
use super::legend::common_signs;
use super::model::{AngleMark, PlanModel, Setout, StakeMark, Taped};
use super::plan_marks::setout::{BASE_LINE, FACE, STRING, end_sign, face_sign, stake_sign};
use super::table::{SYMBOL_HEIGHT, SYMBOL_WIDTH};
use super::words::{self, long};
use super::{pen, plan, symbol, theme};
use crate::design::{CornerAngle, Design, What};
use crate::draw::{Item, Pt, Stroke};
use crate::language::{Languages, say};
use crate::levels::{Held, Stake};
use crate::site::ROUND;
use crate::units::print;

/// The sheet: its plan, the key to its signs, and its tables.
pub fn sheet(design: &Design, general: &PlanModel, tables: Vec<Block>) -> FurtherSheet {
    let setout = setout(design);
    let languages = design.job.sheet.languages;
    let mut blocks = vec![signs(&setout, languages)];
    blocks.extend(tables);
    FurtherSheet {
        name: say!(languages, "Set-out and levels"),
        plan: Some(Arc::new(PlanModel {
            setout: Some(setout),
            radii: general.radii.clone(),
            sills: general.sills.clone(),
            ..theme::common(general)
        })),
        blocks,
        ..FurtherSheet::default()
    }
}

fn setout(design: &Design) -> Setout {
    let [(a, from), (b, to)] = &design.base_line;
    let length = long(design, from.distance(*to));
    let set = design.field.stakes.as_ref();
    let stakes = set.into_iter().flat_map(|set| {
        // The string's other end tells which way it runs, however near to its corner it is held.
        let beyond = |stake: &Stake| {
            let mut both = set.stakes.iter().map(|(_, other)| other);
            let other = both.find(|other| other.edge == stake.edge && other.end != stake.end);
            let way = other.and_then(|other| (stake.corner - other.corner).unit());
            way.unwrap_or_default()
        };
        set.stakes
            .iter()
            .zip(&set.names)
            .map(move |((_, stake), name)| StakeMark {
                name: name.clone(),
                corner: stake.corner,
                at: stake.at,
                beyond: beyond(stake),
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
        points: points(design),
        rails: {
            let rails = design.field.rails.iter();
            rails.map(|run| (run.name.clone(), run.ends)).collect()
        },
    }
}

/// What is taped beside the corners, as the plan marks it: sills and drains bear their names there
/// already.
fn points(design: &Design) -> Vec<Taped> {
    let languages = design.job.sheet.languages;
    let mut points = Vec::new();
    for feature in &design.field.features {
        let words = match &feature.what {
            What::Sill(_) | What::Downspout(_) => continue,
            What::Gully(..) => String::new(),
            What::Middle(name, _) => words::with_point(design, name, feature.at),
            What::ChannelEnd { end, .. } => end.clone(),
            What::Centre(edge, _) if edge == ROUND => say!(languages, "centre"),
            What::Centre(edge, _) => say!(languages, "centre of {edge}", edge),
            What::OnArc(_, number) => number.to_string(),
        };
        let of_middle = match &feature.what {
            What::Middle(name, _) => {
                let point = design.job.survey.name_at(feature.at);
                let point = point.filter(|point| point != name);
                Some(point.unwrap_or_default().to_string())
            }
            _ => None,
        };
        points.push(Taped {
            at: feature.at,
            words,
            of_middle,
        });
    }
    points
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
        let tip = middle.moved(0.0, -FACE / 2.0);
        rows.push((
            face_sign(tip, (0.0, 1.0)),
            say!(languages, "Mark on the wall"),
        ));
    }
    rows.push((
        vec![symbol::level_cross(middle)],
        say!(languages, "Corner or other point that is taped"),
    ));
    if !setout.rails.is_empty() {
        rows.push((vec![across(plan::RAIL)], say!(languages, "Screed rail")));
    }
    rows.push((vec![across(plan::DIG)], say!(languages, "Dig, edge")));
    rows.extend(common_signs(languages));
    Block::signs(say!(languages, "Signs on this plan"), rows)
}
