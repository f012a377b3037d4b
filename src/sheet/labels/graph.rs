//! The conflict graph: which places of which labels exclude each other.
//!
//! In: requests and what is taken. Out: for every label its best places that are clear of what is
//! taken, each with its cost, and for every place the places of other labels that it excludes.
//! Places exclude each other when their boxes touch, when a leader of the one passes through a box
//! of the other, or when their leaders cross.
//!
//! Paper millimetres, y down.

use super::request::{Candidate, Request};
use super::taken::{Taken, cross, strip};
use super::turned::{APART, Box2};
use crate::draw::paper::Rect;
use crate::parallel;

/// So few labels are not worth starting threads for.
const FEW: usize = 64;

/// A place that is clear of what is taken.
#[derive(Clone, Debug)]
pub struct Place {
    /// Which of the request's candidates it is.
    pub candidate: usize,
    /// What it costs, lines that it lies on included.
    pub cost: f64,
    /// Boxes with the clear paper wanted round them.
    wanted: Vec<Box2>,
    /// Boxes with the clear paper that is kept.
    kept: Vec<Box2>,
    /// The rectangle round it all.
    reach: Rect,
}

/// Most places of a label that a graph holds.
pub const MOST: usize = 96;

/// The places of one label that a place of another excludes: a bit for each, so that the graph of a
/// crowd takes memory by pairs of labels and not by pairs of places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Barred {
    label: u32,
    places: [u32; MOST / 32],
}

impl Barred {
    fn none_of(label: usize) -> Self {
        Self {
            label: label as u32,
            places: [0; MOST / 32],
        }
    }

    /// The label whose places these are.
    pub fn label(&self) -> usize {
        self.label as usize
    }

    fn add(&mut self, place: usize) {
        self.places[place / 32] |= 1 << (place % 32);
    }

    /// Whether the place is one of them.
    pub fn holds(&self, place: usize) -> bool {
        self.places[place / 32] & 1 << (place % 32) != 0
    }

    /// The places, in order.
    pub fn places(&self) -> impl Iterator<Item = usize> {
        (0..MOST).filter(|place| self.holds(*place))
    }
}

/// Labels, their places, and what excludes what.
#[derive(Clone, Debug, Default)]
pub struct Graph {
    /// Places of each label, cheapest first.
    pub places: Vec<Vec<Place>>,
    /// For each place of each label what it excludes, in order of the labels.
    pub excluded: Vec<Vec<Vec<Barred>>>,
    /// What each label costs without a place.
    pub worth: Vec<f64>,
}

impl Graph {
    /// The graph of the requests that `open` lists, with at most so many places for each label.
    pub fn new(taken: &Taken, requests: &[Request], open: &[usize], most: usize) -> Self {
        assert!(most <= MOST, "a graph holds {MOST} places of a label");
        let clear = |index: &usize| clear_places(taken, &requests[*index], most);
        let places: Vec<Vec<Place>> = match open.len() < FEW {
            true => open.iter().map(clear).collect(),
            false => parallel::map(open, clear),
        };
        let mut excluded: Vec<Vec<Vec<Barred>>> = places
            .iter()
            .map(|places| vec![Vec::new(); places.len()])
            .collect();
        let reaches: Vec<Option<Rect>> = places
            .iter()
            .map(|p| p.iter().map(|p| p.reach).reduce(Rect::union))
            .collect();
        for (one, other) in overlapping(&reaches) {
            let Some(b) = reaches[other] else { continue };
            for (i, place) in places[one].iter().enumerate() {
                if !place.reach.overlaps(b) {
                    continue;
                }
                for (j, second) in places[other].iter().enumerate() {
                    let leaders = (
                        &requests[open[one]].candidates[place.candidate],
                        &requests[open[other]].candidates[second.candidate],
                    );
                    if exclude(place, second, leaders) {
                        bar(&mut excluded[one][i], (other, j));
                        bar(&mut excluded[other][j], (one, i));
                    }
                }
            }
        }
        Self {
            places,
            excluded,
            worth: open.iter().map(|index| requests[*index].worth).collect(),
        }
    }

    /// Labels that bear on each other, in groups: the components of the graph, in order of their
    /// first label.
    pub fn clusters(&self) -> Vec<Vec<usize>> {
        let mut root: Vec<usize> = (0..self.places.len()).collect();
        fn find(root: &mut [usize], mut at: usize) -> usize {
            while root[at] != at {
                root[at] = root[root[at]];
                at = root[at];
            }
            at
        }
        for (one, places) in self.excluded.iter().enumerate() {
            for barred in places.iter().flatten() {
                let (a, b) = (find(&mut root, one), find(&mut root, barred.label()));
                root[a.max(b)] = a.min(b);
            }
        }
        let mut clusters: Vec<Vec<usize>> = vec![Vec::new(); self.places.len()];
        for label in 0..self.places.len() {
            let first = find(&mut root, label);
            clusters[first].push(label);
        }
        clusters.retain(|cluster| !cluster.is_empty());
        clusters
    }

    /// Takes out the graph of some of the labels, which bear on no other; `at` says where each stands
    /// among them. Their places are given back by [`Graph::give_back`].
    pub fn take(&mut self, labels: &[usize], at: &[usize]) -> Self {
        let mut part = Self::default();
        for label in labels {
            let mut excluded = std::mem::take(&mut self.excluded[*label]);
            for barred in excluded.iter_mut().flatten() {
                barred.label = at[barred.label()] as u32;
            }
            part.excluded.push(excluded);
            part.places.push(std::mem::take(&mut self.places[*label]));
            part.worth.push(self.worth[*label]);
        }
        part
    }

    /// Gives the places of a part back.
    pub fn give_back(&mut self, labels: &[usize], part: Self) {
        for (label, places) in labels.iter().zip(part.places) {
            self.places[*label] = places;
        }
    }
}

/// Adds what a place excludes; labels come in order, the places of one label one after another.
fn bar(excluded: &mut Vec<Barred>, (label, place): (usize, usize)) {
    if excluded.last().is_none_or(|last| last.label() != label) {
        excluded.push(Barred::none_of(label));
    }
    if let Some(last) = excluded.last_mut() {
        last.add(place);
    }
}

/// Pairs of rectangles that overlap, the first of each the one with the lower number, in order.
/// Method: a sweep from left to right.
fn overlapping(reaches: &[Option<Rect>]) -> Vec<(usize, usize)> {
    let mut sorted: Vec<(usize, Rect)> = reaches
        .iter()
        .enumerate()
        .filter_map(|(index, reach)| Some((index, (*reach)?)))
        .collect();
    sorted.sort_by(|(i, a), (j, b)| a.left.total_cmp(&b.left).then(i.cmp(j)));
    let mut pairs = Vec::new();
    for (at, (one, a)) in sorted.iter().enumerate() {
        for (other, b) in &sorted[at + 1..] {
            if b.left > a.right {
                break;
            }
            if a.overlaps(*b) {
                pairs.push((*one.min(other), *one.max(other)));
            }
        }
    }
    pairs.sort_unstable();
    pairs
}

/// The cheapest places of a request that are clear of what is taken.
fn clear_places(taken: &Taken, request: &Request, most: usize) -> Vec<Place> {
    let mut order: Vec<usize> = (0..request.candidates.len()).collect();
    order.sort_by(|a, b| {
        let cost = |i: &usize| request.candidates[*i].cost;
        cost(a).total_cmp(&cost(b)).then(a.cmp(b))
    });
    let mut places: Vec<Place> = Vec::new();
    for candidate in order {
        // Candidates come in order of what they cost at least: the rest cannot be better.
        let wanted = &request.candidates[candidate];
        if places.len() >= most && places[most - 1].cost <= wanted.cost {
            break;
        }
        let limit = (places.len() >= most).then(|| places[most - 1].cost);
        let Some(place) = clear_place(taken, request, candidate, limit) else {
            continue;
        };
        let at = places.partition_point(|p| p.cost <= place.cost);
        places.insert(at, place);
        places.truncate(most);
    }
    places
}

/// A candidate as a place; `None` where it is not clear of what is taken, or costs as much as
/// `limit`.
fn clear_place(
    taken: &Taken,
    request: &Request,
    index: usize,
    limit: Option<f64>,
) -> Option<Place> {
    let candidate = &request.candidates[index];
    let grown = |by: f64| -> Vec<Box2> { candidate.boxes.iter().map(|b| b.grown(by)).collect() };
    let wanted = grown(request.clear);
    if wanted
        .iter()
        .any(|b| !taken.inside(*b) || taken.touches_text(*b))
        || candidate.boxes.iter().any(|b| taken.runs_on(*b))
    {
        return None;
    }
    let beside: Vec<f64> = candidate
        .boxes
        .iter()
        .map(|b| request.shy * 10.0 * taken.line_weight(b.grown(request.beside)))
        .collect();
    let with_boxes = |cost: f64| beside.iter().fold(cost, |cost, more| cost + more);
    let too_much = |cost: f64| limit.is_some_and(|limit| with_boxes(cost) >= limit);
    if too_much(candidate.cost) {
        return None;
    }
    let mut cost = candidate.cost;
    for pair in candidate.leader.windows(2) {
        let segment = [pair[0], pair[1]];
        if taken.strikes_text(segment) || taken.crosses_leader(segment) {
            return None;
        }
        if let Some(strip) = strip(pair[0], pair[1]) {
            // Sums in another order stray by less than the margin.
            let most = limit.map_or(f64::INFINITY, |limit| limit - with_boxes(cost) + 1e-6);
            cost += taken.strip_weight(strip, most);
        }
    }
    if too_much(cost) {
        return None;
    }
    let cost = with_boxes(cost);
    let reach = wanted
        .iter()
        .map(|b| b.longer(APART).bounds())
        .chain(Rect::around(candidate.leader.iter().copied()))
        .reduce(Rect::union)?;
    Some(Place {
        candidate: index,
        cost,
        kept: grown(request.kept()),
        wanted,
        reach,
    })
}

fn exclude(one: &Place, other: &Place, leaders: (&Candidate, &Candidate)) -> bool {
    if !one.reach.overlaps(other.reach) {
        return false;
    }
    let boxes = |a: &[Box2], b: &[Box2]| a.iter().any(|a| b.iter().any(|b| a.overlaps(*b)));
    let struck = |boxes: &[Box2], leader: &Candidate| {
        leader
            .leader
            .windows(2)
            .any(|pair| boxes.iter().any(|b| b.struck([pair[0], pair[1]])))
    };
    let run_on = leaders
        .0
        .boxes
        .iter()
        .any(|a| leaders.1.boxes.iter().any(|b| a.runs_on(*b)));
    run_on
        || boxes(&one.wanted, &other.kept)
        || struck(&one.wanted, leaders.1)
        || struck(&other.wanted, leaders.0)
        || leaders.0.leader.windows(2).any(|a| {
            leaders
                .1
                .leader
                .windows(2)
                .any(|b| cross([a[0], a[1]], [b[0], b[1]]))
        })
}

#[cfg(test)]
mod tests {
    use super::super::request::led;
    use super::*;
    use crate::draw::Pt;

    /// A crowd of features on leaders, two in each place: what each place excludes is what asking of
    /// every pair gives, and the parts hold it all.
    #[test]
    fn what_is_excluded_is_what_asking_of_every_pair_gives() {
        let room = Rect::between(Pt::new(0.0, 0.0), Pt::new(300.0, 200.0));
        let taken = Taken::new(room);
        let requests: Vec<Request> = (0..24)
            .map(|k| {
                let far = if k < 16 { 0.0 } else { 130.0 };
                let from = Pt::new(60.0 + far + 7.0 * f64::from(k / 2), 100.0);
                Request::new(100.0, led(&taken, from, (5.0, 2.0), 60.0))
            })
            .collect();
        let open: Vec<usize> = (0..requests.len()).collect();
        let mut graph = Graph::new(&taken, &requests, &open, 72);
        let (mut found, mut pairs) = (0, 0);
        for one in 0..open.len() {
            for other in (0..open.len()).filter(|other| *other != one) {
                for (i, a) in graph.places[one].iter().enumerate() {
                    for (j, b) in graph.places[other].iter().enumerate() {
                        let [p, q] = [(one, a), (other, b)]
                            .map(|(label, place)| &requests[label].candidates[place.candidate]);
                        let mut barred = graph.excluded[one][i].iter();
                        let holds = barred.any(|b| b.label() == other && b.holds(j));
                        assert_eq!(holds, exclude(a, b, (p, q)), "{one} {i} {other} {j}");
                        found += usize::from(holds);
                        pairs += 1;
                    }
                }
            }
        }
        assert!(found > 1000 && found < pairs / 2, "{found} of {pairs}");
        let all = graph.excluded.iter().flatten().flatten();
        let listed: usize = all.map(|barred| barred.places().count()).sum();
        assert_eq!(listed, found, "each once");
        let places: Vec<usize> = graph.places.iter().map(Vec::len).collect();
        let mut at = vec![0; open.len()];
        let mut kept = 0;
        for cluster in graph.clusters() {
            for (index, label) in cluster.iter().enumerate() {
                at[*label] = index;
            }
            let part = graph.take(&cluster, &at);
            let all = part.excluded.iter().flatten().flatten();
            for barred in all {
                assert!(barred.label() < cluster.len());
                kept += barred.places().count();
            }
            graph.give_back(&cluster, part);
        }
        assert_eq!(kept, found);
        assert_eq!(
            graph.places.iter().map(Vec::len).collect::<Vec<_>>(),
            places
        );
    }
}
