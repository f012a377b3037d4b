//! The bid sheet: what it shows, what it leaves out, and that its sums are the takeoff's.

mod common;

use common::said::in_every_language;
use common::worked;
use groundsheet::draw::Sheet;
use groundsheet::job::{Audience, Job, read};
use groundsheet::takeoff::Takeoff;
use groundsheet::{design, takeoff};

const TERRACE: &str = include_str!("../jobs/terrace.yaml");

fn job(text: &str) -> Job {
    read(text.as_bytes()).expect("the job reads")
}

fn bid(text: &str) -> (Takeoff, Vec<Sheet>) {
    let mut job = job(text);
    job.sheet.audience = Audience::Bid;
    let design = design::run(job).expect("the job can be worked");
    let takeoff = takeoff::of(&design).expect("the prices are sound");
    (takeoff, worked::composed(&design).sheets)
}

/// Every run of text of the sheets.
fn words(sheets: &[Sheet]) -> Vec<String> {
    sheets
        .iter()
        .flat_map(|s| worked::words(&s.items))
        .collect()
}

/// Every line of the takeoff can be priced under its key: the sum of the amounts is the material.
#[test]
fn every_line_of_the_takeoff_takes_its_price() {
    let (takeoff, _) = bid(TERRACE);
    let price = takeoff.price.expect("the job states prices");
    assert_eq!(price.missing, Vec::<String>::new());
    assert_eq!(price.unused, Vec::<String>::new());
    let sum: rust_decimal::Decimal = takeoff
        .lines
        .iter()
        .map(|line| line.price.expect("a price").amount)
        .sum();
    assert_eq!(sum, price.material);
    for line in &takeoff.lines {
        let price = line.price.expect("a price");
        let product = (price.quantity * price.each - price.amount).abs();
        let half_a_cent = rust_decimal::Decimal::new(5, 3);
        assert!(product <= half_a_cent, "{}: {price:?}", line.key);
    }
}

#[test]
fn a_bid_is_one_page_of_what_a_client_asks() {
    let (takeoff, sheets) = bid(TERRACE);
    assert_eq!(sheets.len(), 1);
    let words = words(&sheets);
    let price = takeoff.price.expect("the job states prices");
    let shown = |part: &str| words.iter().any(|run| run.replace(',', "").contains(part));
    // A sentence may go over two lines.
    let said = words.join(" ");
    assert!(said.contains("herringbone turned 45°"), "{said}");
    for part in [
        "soldier course",
        "Aggregate brought in",
        &format!("{:.2}", price.total),
        "For the client",
        "Offer: plan",
        "Prices hold for 30 days",
        "Local codes",
    ] {
        assert!(shown(part), "{part} is on the sheet");
    }
    for part in [
        "General:",
        "Rod on",
        "Course, first piece",
        "1-1",
        "Order of work",
        "start at corner",
    ] {
        assert!(!shown(part), "{part} is not on the sheet");
    }
}

/// A price left out is named, and there is no total.
#[test]
fn what_has_no_price_is_named_and_nothing_is_called_a_total() {
    let text = TERRACE.replace("  bedding: 52\n", "");
    let (_, sheets) = bid(&text);
    let words = words(&sheets);
    assert!(words.iter().any(|run| run.contains("Not priced yet")));
    assert!(words.iter().any(|run| run.contains("Concrete sand")));
    assert!(!words.iter().any(|run| run == "Total"));
}

#[test]
fn both_audiences_of_one_job_are_read() {
    let job = job(TERRACE);
    assert_eq!(job.sheet.audience, Audience::Crew);
    assert_eq!(job.sheet.further_audiences, [Audience::Bid]);
    let twice = TERRACE.replace("[crew, bid]", "[bid, bid]");
    let errors = in_every_language(read(twice.as_bytes()).expect_err("named twice"));
    assert_eq!(errors.len(), 1);
}

/// Hours and money of both bases stand in the comparison; where a rate is not stated, neither does.
#[test]
fn the_comparison_shows_hours_and_money_where_they_are_known() {
    let (takeoff, sheets) = bid(TERRACE);
    let beside = takeoff.beside.expect("a comparison");
    let money = beside.money.expect("all is priced");
    let shown = words(&sheets);
    for total in money.total {
        let wanted = format!("{total:.2}");
        let mut sums = shown.iter().map(|run| run.replace(',', ""));
        assert!(sums.any(|sum| sum == wanted), "{total}");
    }
    assert!(shown.iter().any(|run| run.starts_with("Person-hours of")));
    let (_, sheets) = bid(&TERRACE.replace("    aggregate: 0.9 h per yd3\n", ""));
    let shown = words(&sheets);
    assert!(shown.iter().any(|run| run == "Aggregate brought in"));
    assert!(!shown.iter().any(|run| run.starts_with("Person-hours of")));
    assert!(!shown.iter().any(|run| run.starts_with("Price of what")));
}
