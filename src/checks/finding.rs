//! What a check found: its id, how it stands, the value and the limit, where, and by what source;
//! and the numbers under which what is not as it should be stands on the plan and in every list.

use crate::diag::Place;
use crate::geom::Point;
use crate::language::Phrase;

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// As it should be.
    Pass,
    /// Look at it.
    Warn,
    /// Must not be built so.
    Fail,
}

impl Status {
    /// The word that reports use.
    pub const fn word(self) -> &'static str {
        match self {
            Status::Pass => "pass",
            Status::Warn => "warn",
            Status::Fail => "fail",
        }
    }
}

/// What one check found in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Stable id, such as `panels.stagger`.
    pub id: &'static str,
    /// How it stands.
    pub status: Status,
    /// One line for people, with the value and the limit in it.
    pub title: Phrase,
    /// The value, in `unit`.
    pub value: Option<f64>,
    /// The limit, in `unit`.
    pub limit: Option<f64>,
    /// The unit of value and limit.
    pub unit: &'static str,
    /// Where in the job file.
    pub at: Option<Place>,
    /// Where on the site, in words.
    pub where_: Option<Phrase>,
    /// Where on the plan.
    pub point: Option<Point>,
    /// The source of the rule.
    pub source: &'static str,
}

/// A finding in the order in which people read them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Listed<'a> {
    /// What was found.
    pub finding: &'a Finding,
    /// Its number on the plan; none where all is well or it has no place.
    pub number: Option<usize>,
}

/// The findings as people read them, the worst first; those that are not as they should be and
/// have a place are numbered from 1.
pub fn listed(findings: &[Finding]) -> Vec<Listed<'_>> {
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    sorted.sort_by_key(|finding| std::cmp::Reverse(finding.status));
    let mut last = 0;
    let numbered = sorted.into_iter().map(|finding| {
        let marked = finding.status != Status::Pass && finding.point.is_some();
        last += usize::from(marked);
        Listed {
            finding,
            number: marked.then_some(last),
        }
    });
    numbered.collect()
}

/// The number of each finding on the plan, in the order of the findings; see [`listed`].
pub fn numbers(findings: &[Finding]) -> Vec<Option<usize>> {
    let listed = listed(findings);
    let of = |finding: &Finding| {
        let same = |each: &&Listed| std::ptr::eq(each.finding, finding);
        listed.iter().find(same).and_then(|each| each.number)
    };
    findings.iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Failures are numbered before warnings; what passes or has no place bears no number.
    #[test]
    fn troubles_with_a_place_are_numbered_the_worst_first() {
        let finding = |status, point| Finding {
            id: "test",
            status,
            title: Phrase::default(),
            value: None,
            limit: None,
            unit: "",
            at: None,
            where_: None,
            point,
            source: "",
        };
        let place = Some(Point::new(1.0, 2.0));
        let findings = [
            finding(Status::Warn, place),
            finding(Status::Pass, place),
            finding(Status::Fail, None),
            finding(Status::Fail, place),
            finding(Status::Warn, place),
        ];
        assert_eq!(numbers(&findings), [Some(2), None, None, Some(1), Some(3)]);
        let order: Vec<Option<usize>> = listed(&findings).iter().map(|l| l.number).collect();
        assert_eq!(order, [None, Some(1), Some(2), Some(3), None]);
    }
}
