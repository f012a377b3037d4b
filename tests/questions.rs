//! Twenty questions on each example, as a crew lead, a client and an inspector ask them: the sheet
//! gives the answer in words of its own, and the answer is what the report says.
//!
//! `tests/questions/JOB.yaml` keeps them: question, answer, whose sheets give it (the crew's or the
//! client's), the words that give it there, and where the report holds the figure. Figures are read
//! back from their printed form, so that no printing is trusted here.

mod common;

use common::worked::{sheets, words};
use groundsheet::draw::Sheet;
use groundsheet::job::Audience;
use groundsheet::{checks, report};
use serde::Deserialize;
use serde_json::Value;

const JOBS: [(&str, &str, &str); 6] = [
    (
        "landing",
        include_str!("../jobs/landing.yaml"),
        include_str!("questions/landing.yaml"),
    ),
    (
        "two-walls",
        include_str!("../jobs/two-walls.yaml"),
        include_str!("questions/two-walls.yaml"),
    ),
    (
        "pool-surround",
        include_str!("../jobs/pool-surround.yaml"),
        include_str!("questions/pool-surround.yaml"),
    ),
    (
        "hillside-terrace",
        include_str!("../jobs/hillside-terrace.yaml"),
        include_str!("questions/hillside-terrace.yaml"),
    ),
    (
        "terrace",
        include_str!("../jobs/terrace.yaml"),
        include_str!("questions/terrace.yaml"),
    ),
    (
        "bonds",
        include_str!("../jobs/bonds.yaml"),
        include_str!("questions/bonds.yaml"),
    ),
];

/// One question.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Question {
    reader: String,
    ask: String,
    answer: String,
    sheets: Set,
    says: String,
    report: String,
    kind: Kind,
}

/// Whose sheets give an answer.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Set {
    Crew,
    Bid,
}

/// What an answer is.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Kind {
    Length,
    Level,
    Count,
    Number,
    Percent,
    #[serde(rename = "square feet")]
    SquareFeet,
    /// Grouped on paper, plain in the report.
    Money,
    Text,
}

/// The value at a path such as `setout[corner=C]/ties/0/distance_mm`.
fn at<'a>(report: &'a Value, path: &str) -> &'a Value {
    let mut value = report;
    for part in path.split('/') {
        let (key, wanted) = match part.split_once('[') {
            Some((key, rest)) => (key, rest.trim_end_matches(']').split_once('=')),
            None => (part, None),
        };
        value = match key.parse::<usize>() {
            Ok(index) => &value[index],
            Err(_) => &value[key],
        };
        if let Some((name, word)) = wanted {
            let list = value
                .as_array()
                .unwrap_or_else(|| panic!("{path}: no list"));
            let found = list.iter().find(|each| each[name] == word);
            value = found.unwrap_or_else(|| panic!("{path}: none with {name} {word}"));
        }
    }
    value
}

/// Millimetres of a printed length: `12′-6½″`, `4⅜″`, `1550 mm`.
fn millimetres(words: &str) -> f64 {
    if let Some(metric) = words.strip_suffix(" mm") {
        return metric.parse().expect("millimetres");
    }
    let (feet, inches) = match words.split_once('′') {
        Some((feet, inches)) => (feet, inches.trim_start_matches('-')),
        None => ("0", words),
    };
    let inches = inches.trim_end_matches('″');
    let whole: String = inches.chars().filter(char::is_ascii_digit).collect();
    let part = inches.chars().find_map(|sign| {
        let signs = ['⅛', '¼', '⅜', '½', '⅝', '¾', '⅞'];
        signs.iter().position(|s| *s == sign)
    });
    let eighths = part.map_or(0.0, |index| (index + 1) as f64);
    let number = |digits: &str| digits.parse::<f64>().unwrap_or(0.0);
    (number(feet) * 12.0 + number(&whole) + eighths / 8.0) * 25.4
}

/// Whether the answer is what the report says, to the last place printed.
fn agrees(answer: &str, kind: Kind, value: &Value) -> bool {
    let Some(figure) = value.as_f64() else {
        return match kind {
            Kind::Money => value.as_str() == Some(&answer.replace(',', "")),
            _ => value.as_str() == Some(answer),
        };
    };
    let plain = |suffix: &str| {
        let digits = answer.strip_suffix(suffix).expect("its unit");
        digits.parse::<f64>().expect("a number")
    };
    let (found, within) = match kind {
        // Half of an eighth of an inch, or of a millimetre.
        Kind::Length if answer.ends_with("mm") => (millimetres(answer), 0.5),
        Kind::Length => (millimetres(answer), 25.4 / 16.0),
        Kind::Level if answer.ends_with('m') => (plain(" m") * 1000.0, 0.5),
        Kind::Level => (plain("′") * 304.8, 0.005 * 304.8),
        Kind::Count => (plain(""), 0.0),
        Kind::Number => (plain(""), 0.05),
        Kind::Percent => (plain("%"), 0.005),
        Kind::SquareFeet => (plain("") * 0.092_903_04, 0.05 * 0.092_903_04),
        Kind::Money | Kind::Text => return false,
    };
    (found - figure).abs() <= within + 1e-6
}

#[test]
fn sheets_answer_what_readers_ask() {
    for (name, job, questions) in JOBS {
        let questions: Vec<Question> = serde_yaml::from_str(questions).expect(name);
        assert_eq!(questions.len(), 20, "{name}");
        let (design, takeoff, crew) = sheets(job);
        let text = report::json(&design, &takeoff, &checks::run(&design), &[]);
        let report: Value = serde_json::from_str(&text).expect("JSON");
        let client = bid(job);
        let mut readers: Vec<&str> = Vec::new();
        let mut answered_by_bid = false;
        for question in &questions {
            let told = format!("{name}, {}: {}", question.reader, question.ask);
            let set = match question.sheets {
                Set::Crew => &crew,
                Set::Bid => &client,
            };
            assert!(
                set.iter().any(|sheet| says(sheet, &question.says)),
                "{told}"
            );
            assert!(
                question
                    .says
                    .contains(question.answer.trim_end_matches(" mm")),
                "{told}"
            );
            let value = at(&report, &question.report);
            assert!(
                agrees(&question.answer, question.kind, value),
                "{told}: {value}"
            );
            readers.push(&question.reader);
            answered_by_bid |= matches!(question.sheets, Set::Bid);
        }
        assert!(
            answered_by_bid,
            "{name}: nothing asked of the client's sheets"
        );
        for reader in ["crew lead", "client", "inspector"] {
            assert!(
                readers.contains(&reader),
                "{name}: nothing for the {reader}"
            );
        }
    }
}

/// Whether a sheet has those words, in one run or in runs that follow one another.
fn says(sheet: &Sheet, wanted: &str) -> bool {
    let runs = words(&sheet.items);
    let said: Vec<&str> = runs
        .iter()
        .map(String::as_str)
        .filter(|run| !run.is_empty())
        .collect();
    stands_in(&said.join(" "), wanted)
}

/// Whether words stand in a text by themselves: `2: 450` does not stand in `12: 450`, nor `12′` in
/// `12′-6″`, nor `4` in `4.5` or `4½`.
fn stands_in(text: &str, words: &str) -> bool {
    let of_number = |c: char| c.is_ascii_digit() || "′″".contains(c) || is_fraction(c);
    let of_word = |c: char| c.is_alphanumeric() || of_number(c) || c == '%';
    let joins = |c: char| ".,-/′\u{a0}".contains(c);
    // Whether what stands beside a place, nearest first, goes on with what begins there.
    let goes_on = |own: Option<char>, beside: &mut dyn Iterator<Item = char>| {
        let next = beside.next();
        let joined = next.is_some_and(joins) && beside.next().is_some_and(of_number);
        own.is_some_and(of_word) && (next.is_some_and(of_word) || joined)
    };
    text.match_indices(words).any(|(start, _)| {
        let before = &mut text[..start].chars().rev();
        let after = &mut text[start + words.len()..].chars();
        !goes_on(words.chars().next(), before) && !goes_on(words.chars().last(), after)
    })
}

/// Whether a sign is a fraction, such as ⅜.
fn is_fraction(c: char) -> bool {
    matches!(c, '¼'..='¾' | '⅐'..='⅞')
}

/// The reading of words that stand by themselves is itself right.
#[test]
fn words_stand_by_themselves() {
    for (text, words, stands) in [
        ("row 12: 450 mm", "2: 450", false),
        ("rows 2: 450, 3: 500", "2: 450", true),
        ("12′-6½″ long", "12′", false),
        ("12′-6½″ long", "6½″", false),
        ("12′-6½″ long", "12′-6½″", true),
        ("fall 2.5%", "2", false),
        ("fall 2%.", "2%", true),
        ("4⅜″", "4", false),
        ("12,450 units", "450", false),
        ("12\u{a0}450 kg", "450 kg", false),
        ("Landing falls", "Land", false),
    ] {
        assert_eq!(stands_in(text, words), stands, "{words} in {text}");
    }
}

/// The client's sheets of a job.
fn bid(job: &str) -> Vec<Sheet> {
    let mut design = common::worked::design(job);
    design.job.sheet.audience = Audience::Bid;
    common::worked::composed(&design).sheets
}

/// The reading of printed figures is itself right, by hand.
#[test]
fn printed_lengths_are_read_back() {
    for (words, wanted) in [
        ("4⅜″", 4.375 * 25.4),
        ("12′-6½″", 150.5 * 25.4),
        ("10′-0″", 120.0 * 25.4),
        ("¾″", 0.75 * 25.4),
        ("1550 mm", 1550.0),
    ] {
        assert!((millimetres(words) - wanted).abs() < 1e-9, "{words}");
    }
}
