//! From the computed design to the set of sheets.
//!
//! In: design, takeoff, findings. Out: sheets of the display list, the general one first.

use std::sync::Arc;

use super::content::Content;
use super::layout::{LeftScale, MOST, MOST_PARTS};
use super::{from_checks, from_detail, from_plan, from_section, from_text, layout, symbol};
use crate::checks::Finding;
use crate::design::Design;
use crate::diag::Diagnostic;
use crate::draw::Sheet;
use crate::draw::paper::{Orientation, Paper};
use crate::draw::scale::Scale;
use crate::job::{Audience, ScaleChoice};
use crate::language::{Phrase, phrase, say};
use crate::takeoff::Takeoff;

/// So many sheets more than on the next larger paper the crew prints at the office; an offer, which
/// a client reads and signs, takes none more.
const MORE: usize = 4;

/// The set of sheets of a design, and what its reader should know of them.
pub struct Composed {
    /// The sheets: the general one first, then what does not fit on it.
    pub sheets: Vec<Sheet>,
    /// What of the job they do not follow.
    pub warnings: Vec<Diagnostic>,
}

/// The set of sheets of a design: the general sheet first, then what does not fit on it.
pub fn compose(design: &Design, takeoff: &Takeoff, findings: &[Finding]) -> Vec<Sheet> {
    composed(design, takeoff, findings).sheets
}

/// The same with what the sheets do not follow.
pub fn composed(design: &Design, takeoff: &Takeoff, findings: &[Finding]) -> Composed {
    let laid = layout::sheets(&content(design, takeoff, findings));
    let scale = laid.left.map(|left| scale_left(design, &left));
    let full = (!laid.left_off.is_empty()).then(|| left_off(design, &laid.left_off));
    Composed {
        sheets: laid.sheets,
        warnings: scale.into_iter().chain(full).collect(),
    }
}

/// Says that the set has no room for some of its blocks.
fn left_off(design: &Design, titles: &[String]) -> Diagnostic {
    let found = phrase!(
        "a set has at most {most} sheets; {count} table is left off, the last sheet names it: {titles} | a set has at most {most} sheets; {count} tables are left off, the last sheet names them: {titles}",
        most = MOST,
        count = titles.len(),
        titles = Phrase::listed(titles.iter().map(Phrase::own))
    );
    // Where nothing is stated, the largest paper is taken already.
    let spec = &design.job.sheet;
    let right = match (&spec.paper, &spec.scale) {
        (Some(_), _) => phrase!("a larger paper, or auto"),
        (None, ScaleChoice::Stated(..)) => phrase!("a smaller scale, or auto"),
        (None, ScaleChoice::Auto) => {
            phrase!("the job in several files, each with a set of its own")
        }
    };
    let warning = Diagnostic::warning("sheets-left-off", found).wanted(right);
    match design.job.places.get("sheet.paper") {
        Some(place) => warning.at(*place),
        None => warning,
    }
}

/// Says that a stated scale would take too many sheets.
fn scale_left(design: &Design, left: &LeftScale) -> Diagnostic {
    let [stated, drawn] = [&left.stated, &left.drawn].map(symbol::scale_words);
    let found = phrase!(
        "{stated} would split the plan into {parts} sheets, at most {most} are drawn; it is drawn at {drawn}",
        stated,
        parts = left.parts,
        most = MOST_PARTS,
        drawn
    );
    let warning = Diagnostic::warning("scale-too-large", found)
        .wanted(phrase!("a smaller scale, a larger paper, or auto"));
    match design.job.places.get("sheet.scale") {
        Some(place) => warning.at(*place),
        None => warning,
    }
}

/// What the sheets of a design show.
pub fn content(design: &Design, takeoff: &Takeoff, findings: &[Finding]) -> Content {
    let spec = &design.job.sheet;
    let mut plan = from_plan::plan(design);
    if spec.audience == Audience::Crew {
        plan.troubles = from_checks::troubles(design, findings);
    }
    let shown = match spec.audience {
        Audience::Crew => from_text::for_crew(design, takeoff, findings, &plan),
        Audience::Bid => from_text::for_client(design, takeoff, findings),
    };
    Content {
        languages: spec.languages,
        system: spec.units,
        paper: spec.paper.as_deref().and_then(Paper::named),
        more: match spec.audience {
            Audience::Crew => MORE,
            Audience::Bid => 0,
        },
        turned: spec.landscape.map(|landscape| {
            if landscape {
                Orientation::Landscape
            } else {
                Orientation::Portrait
            }
        }),
        scale: match &spec.scale {
            ScaleChoice::Auto => None,
            ScaleChoice::Stated(ratio, text) => Some(Scale {
                ratio: *ratio,
                text: text.clone(),
            }),
        },
        north: spec.north,
        name: match spec.audience {
            Audience::Crew => say!(spec.languages, "General: plan, section, edge detail"),
            Audience::Bid => say!(spec.languages, "Offer: plan, section, edge detail"),
        },
        name_alone: match spec.audience {
            Audience::Crew => say!(spec.languages, "General: plan"),
            Audience::Bid => say!(spec.languages, "Offer: plan"),
        },
        apart: false,
        plan: Arc::new(plan),
        sections: from_section::sections(design),
        detail: from_detail::detail(design),
        essential: shown.essential,
        general: shown.general,
        further: shown.further,
        title: from_text::title(design),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One table is one, and a paper or a scale that is auto already is not proposed.
    #[test]
    fn what_is_left_off_is_said_with_what_would_be_right() {
        let said = |sheet: &str, titles: &[String]| {
            let yard = format!(
                "job: {{title: Yard}}\nsheet: {{units: metric{sheet}}}\n\
                 paving: [{{name: Yard, rectangle: {{corner: [0, 0], width: 3 m, depth: 2 m}}}}]\n\
                 pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}\n\
                 levels: {{finish: {{at: A, level: 10 m, fall: 2%, towards: 0°}}}}\n"
            );
            let job = crate::job::read(yard.as_bytes()).expect("a sound job");
            let warning = left_off(&crate::design::run(job).expect("a design"), titles);
            let wanted = warning.wanted.map(|wanted| wanted.to_string());
            (warning.found.to_string(), wanted.unwrap_or_default())
        };
        let [one, two] = ["Survey", "Hours"].map(str::to_string);
        let (found, wanted) = said(", paper: a4", std::slice::from_ref(&one));
        assert_eq!(
            found,
            "a set has at most 60 sheets; 1 table is left off, the last sheet names it: Survey"
        );
        assert_eq!(wanted, "a larger paper, or auto");
        let (found, wanted) = said(", scale: 1:5", &[one.clone(), two.clone()]);
        assert!(found.contains("2 tables are left off, the last sheet names them:"));
        assert_eq!(wanted, "a smaller scale, or auto");
        let (_, wanted) = said("", &[one, two]);
        assert!(
            !wanted.contains("auto") && !wanted.contains("paper"),
            "{wanted}"
        );
    }
}
