//! What the placement of labels holds to.

use super::super::label::Label;
use super::super::request::{Candidate, led};
use super::super::taken::cross;
use super::super::turned::Box2;
use super::*;
use crate::draw::Pt;
use crate::draw::paper::Rect;

fn room() -> Rect {
    Rect::between(Pt::new(0.0, 0.0), Pt::new(200.0, 200.0))
}

fn at(x: f64, y: f64) -> Box2 {
    Box2 {
        centre: Pt::new(x, y),
        half: 5.0,
        rise: 2.0,
        angle: 0.0,
    }
}

fn chosen(taken: &mut Taken, requests: &[Request]) -> Vec<Option<usize>> {
    let chosen = solve(taken, requests);
    chosen
        .iter()
        .map(|c| c.as_ref().map(|c| c.candidate))
        .collect()
}

#[test]
fn labels_avoid_lines_and_stand_on_a_white_ground_where_they_cannot() {
    let mut taken = Taken::new(room());
    let label = Label::note("4'-0\"");
    taken.add_line([Pt::new(0.0, 50.0), Pt::new(200.0, 50.0)], 1.0);
    let request = Request::new(
        100.0,
        [50.0, 40.0, 60.0]
            .into_iter()
            .enumerate()
            .map(|(rank, y)| Candidate::bare(label.box_at(Pt::new(50.0, y)), rank as f64 * 0.05))
            .collect(),
    );
    let three = vec![request.clone(), request.clone(), request];
    let found = solve(&mut taken, &three);
    let mut ends: Vec<(usize, bool)> = found
        .iter()
        .map(|c| {
            c.as_ref()
                .map(|c| (c.candidate, c.knocked_out))
                .expect("there is room")
        })
        .collect();
    ends.sort_unstable();
    assert_eq!(ends, [(0, true), (1, false), (2, false)]);
    assert_eq!(chosen(&mut taken, &three[..1]), [None]);
}

#[test]
fn the_best_for_all_beats_the_first_come() {
    // The first label's cheapest place shuts the only place of the second.
    let one = Request::new(
        100.0,
        vec![
            Candidate::bare(at(50.0, 50.0), 0.0),
            Candidate::bare(at(50.0, 80.0), 3.0),
        ],
    );
    let two = Request::new(100.0, vec![Candidate::bare(at(56.0, 50.0), 0.0)]);
    assert_eq!(
        chosen(&mut Taken::new(room()), &[one, two]),
        [Some(1), Some(0)]
    );
}

#[test]
fn a_chain_of_labels_is_solved_to_its_optimum() {
    // Six labels in a row, each with a place left (free) and right (costs 1) that overlap the
    // neighbours' so that only all-left or a switch works: the optimum is known.
    let requests: Vec<Request> = (0..6)
        .map(|k| {
            let x = 20.0 + 15.0 * f64::from(k);
            Request::new(
                100.0,
                vec![
                    Candidate::bare(at(x, 50.0), 0.0),
                    Candidate::bare(at(x + 9.0, 50.0), 1.0),
                ],
            )
        })
        .collect();
    assert_eq!(chosen(&mut Taken::new(room()), &requests), vec![Some(0); 6]);
}

/// Forty features in a tight grid, each with a leader: all get a place, nothing touches, no
/// leaders cross, and a second run gives the same.
#[test]
fn a_crowd_is_lettered_without_a_crossing() {
    let mut requests = Vec::new();
    let empty = Taken::new(room());
    for i in 0..8 {
        for j in 0..5 {
            let from = Pt::new(60.0 + 9.0 * f64::from(i), 80.0 + 9.0 * f64::from(j));
            requests.push(Request::new(1000.0, led(&empty, from, (4.0, 2.0), 60.0)));
        }
    }
    let mut taken = Taken::new(room());
    let first = chosen(&mut taken, &requests);
    let placed: Vec<&Candidate> = first
        .iter()
        .zip(&requests)
        .map(|(c, r)| &r.candidates[c.expect("there is room for all")])
        .collect();
    for (i, one) in placed.iter().enumerate() {
        for other in &placed[i + 1..] {
            assert!(!one.bounds().overlaps(other.bounds()));
            let (a, b) = (&one.leader, &other.leader);
            assert!(!cross([a[0], a[1]], [b[0], b[1]]));
            assert!(!one.bounds().struck([b[0], b[1]]) && !other.bounds().struck([a[0], a[1]]));
        }
    }
    assert_eq!(chosen(&mut Taken::new(room()), &requests), first);
}
