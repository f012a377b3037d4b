//! Choosing places for all labels of a view at once.
//!
//! In: requests and what is taken. Out: for every request the place it gets, or none. Labels are
//! cheapest together: the sum of the costs of their places, and of the worth of labels left
//! without one, is what is minimised, and no two chosen places exclude each other.
//!
//! Methods: greedy choice, label with the fewest open places first; where that is not provably the
//! best, branch and bound for small clusters of the conflict graph, and simulated annealing for
//! large ones (Christensen, Marks and Shieber, *An Empirical Study of Algorithms for Point-Feature
//! Label Placement*, ACM Transactions on Graphics 14(3), 1995) with a fixed seed and a counted
//! number of evaluations, so that the same job gives the same places on every machine. Labels that
//! are left over are tried again over all of their places, with the others standing.

use std::collections::BTreeSet;

use super::graph::Graph;
use super::random::Random;
use super::request::Request;
use super::taken::Taken;

/// Most places that are looked at for one label, and where that leaves a label of some worth
/// without one.
const PLACES: [usize; 2] = [28, 72];
/// What a label is worth that is not left without a place lightly.
const WORTHY: f64 = 100.0;
/// Most labels of a cluster that is solved exactly.
const EXACT: usize = 9;
/// Most nodes of one exact search.
const NODES: usize = 6000;
/// Evaluations of the annealing for each label of a cluster, and at most.
const EVALUATIONS: (usize, usize) = (220, 24_000);
/// Costs that count as equal.
const EQUAL: f64 = 1e-9;

/// The place that a label got.
#[derive(Clone, Debug, PartialEq)]
pub struct Chosen {
    /// Which of its candidates.
    pub candidate: usize,
    /// Whether lines pass behind it and it needs a white ground.
    pub knocked_out: bool,
}

/// Chooses a place for every request, and takes the places.
pub fn solve(taken: &mut Taken, requests: &[Request]) -> Vec<Option<Chosen>> {
    let mut chosen: Vec<Option<Chosen>> = vec![None; requests.len()];
    let mut open: Vec<usize> = (0..requests.len()).collect();
    while !open.is_empty() {
        let (graph, places) = choose_few_then_many(taken, requests, &open);
        let mut left = Vec::new();
        for (label, place) in places.into_iter().enumerate() {
            let index = open[label];
            let Some(place) = place else {
                left.push(index);
                continue;
            };
            let candidate = graph.places[label][place].candidate;
            chosen[index] = Some(take(taken, &requests[index], candidate));
        }
        if left.len() == open.len() {
            break;
        }
        open = left;
    }
    chosen
}

/// The choice over few places for each label, or over many where few leave a worthy one without.
fn choose_few_then_many(
    taken: &Taken,
    requests: &[Request],
    open: &[usize],
) -> (Graph, Vec<Option<usize>>) {
    let mut graph = Graph::new(taken, requests, open, PLACES[0]);
    let places = choose(&mut graph);
    let worthy = |(label, place): (usize, &Option<usize>)| {
        place.is_none() && graph.worth[label] >= WORTHY && !graph.places[label].is_empty()
    };
    if !places.iter().enumerate().any(worthy) {
        return (graph, places);
    }
    drop(graph);
    let mut graph = Graph::new(taken, requests, open, PLACES[1]);
    let places = choose(&mut graph);
    (graph, places)
}

/// Takes a candidate's room and leader.
fn take(taken: &mut Taken, request: &Request, index: usize) -> Chosen {
    let candidate = &request.candidates[index];
    let knocked_out = taken.line_weight(candidate.bounds().grown(request.beside)) > 0.0;
    for bounds in &candidate.boxes {
        taken.add_box(bounds.grown(request.kept()));
    }
    taken.add_leader(&candidate.leader);
    Chosen {
        candidate: index,
        knocked_out,
    }
}

/// A place for every label of the graph, or none. What excludes what is used up.
fn choose(graph: &mut Graph) -> Vec<Option<usize>> {
    let mut choice = vec![None; graph.places.len()];
    // Where a label of the graph stands in its cluster.
    let mut places = vec![0; graph.places.len()];
    for cluster in graph.clusters() {
        for (at, label) in cluster.iter().enumerate() {
            places[*label] = at;
        }
        let part = graph.take(&cluster, &places);
        let all: Vec<usize> = (0..cluster.len()).collect();
        let found = solve_cluster(&part, &all);
        for (label, place) in cluster.iter().zip(found) {
            choice[*label] = place;
        }
        graph.give_back(&cluster, part);
    }
    choice
}

fn solve_cluster(graph: &Graph, cluster: &[usize]) -> Vec<Option<usize>> {
    let mut state = State::new(graph);
    greedy(&mut state, cluster);
    // No choice is cheaper than every label at its cheapest place.
    let bound: f64 = cluster
        .iter()
        .map(|label| {
            let cheapest = graph.places[*label].first().map(|p| p.cost);
            cheapest.map_or(graph.worth[*label], |c| c.min(graph.worth[*label]))
        })
        .sum();
    if state.cost(cluster) > bound + EQUAL {
        if cluster.len() <= EXACT {
            exact(&mut state, cluster);
        } else {
            anneal(&mut state, cluster);
        }
    }
    cluster.iter().map(|label| state.choice[*label]).collect()
}

/// A choice being worked on.
#[derive(Clone)]
struct State<'a> {
    graph: &'a Graph,
    choice: Vec<Option<usize>>,
}

impl<'a> State<'a> {
    fn new(graph: &'a Graph) -> Self {
        Self {
            graph,
            choice: vec![None; graph.places.len()],
        }
    }

    fn cost_of(&self, label: usize, place: Option<usize>) -> f64 {
        place.map_or(self.graph.worth[label], |p| {
            self.graph.places[label][p].cost
        })
    }

    fn cost(&self, cluster: &[usize]) -> f64 {
        cluster
            .iter()
            .map(|label| self.cost_of(*label, self.choice[*label]))
            .sum()
    }

    /// Whether no chosen place excludes this one.
    fn open(&self, label: usize, place: usize) -> bool {
        self.graph.excluded[label][place]
            .iter()
            .all(|barred| self.choice[barred.label()].is_none_or(|at| !barred.holds(at)))
    }

    /// The cheapest open place, where it is better than none.
    fn cheapest(&self, label: usize) -> Option<usize> {
        let places = &self.graph.places[label];
        (0..places.len())
            .take_while(|p| places[*p].cost < self.graph.worth[label])
            .find(|p| self.open(label, *p))
    }
}

/// The label with the fewest open places chooses first, the one worth more of two with as many.
fn greedy(state: &mut State, cluster: &[usize]) {
    let graph = state.graph;
    // Labels in order of worth, those worth as much in order.
    let mut ranked: Vec<usize> = cluster.to_vec();
    ranked.sort_by(|a, b| {
        let worth = |label: &usize| graph.worth[*label];
        worth(b).total_cmp(&worth(a)).then(a.cmp(b))
    });
    let mut rank = vec![0; graph.places.len()];
    for (at, label) in ranked.iter().enumerate() {
        rank[*label] = at;
    }
    let mut shut: Vec<Vec<bool>> = vec![Vec::new(); graph.places.len()];
    let mut count: Vec<usize> = vec![0; graph.places.len()];
    for label in cluster {
        count[*label] = graph.places[*label].len();
        shut[*label] = vec![false; count[*label]];
    }
    let mut waiting: BTreeSet<(usize, usize)> = cluster
        .iter()
        .map(|label| (count[*label], rank[*label]))
        .collect();
    while let Some((_, first)) = waiting.pop_first() {
        let label = ranked[first];
        let Some(place) = state.cheapest(label) else {
            continue;
        };
        state.choice[label] = Some(place);
        for barred in &graph.excluded[label][place] {
            let other = barred.label();
            let places = barred.places();
            let shuts = places.filter(|at| !std::mem::replace(&mut shut[other][*at], true));
            let fewer = shuts.count();
            if fewer == 0 {
                continue;
            }
            let waits = waiting.remove(&(count[other], rank[other]));
            count[other] -= fewer;
            if waits {
                waiting.insert((count[other], rank[other]));
            }
        }
    }
}

/// Branch and bound over the labels of a cluster, those with the fewest places first, from the
/// choice that stands.
fn exact(state: &mut State, cluster: &[usize]) {
    let graph = state.graph;
    let mut order = cluster.to_vec();
    order.sort_by_key(|label| (graph.places[*label].len(), *label));
    // What the labels from a position on cost at least.
    let mut least = vec![0.0; order.len() + 1];
    for (i, label) in order.iter().enumerate().rev() {
        let cheapest = graph.places[*label].first().map(|p| p.cost);
        let cost = cheapest.map_or(graph.worth[*label], |c| c.min(graph.worth[*label]));
        least[i] = least[i + 1] + cost;
    }
    let mut search = Search {
        order: &order,
        least: &least,
        best: state.cost(cluster),
        found: None,
        nodes: 0,
    };
    let mut scratch = State::new(graph);
    search.branch(&mut scratch, 0, 0.0);
    if let Some(found) = search.found {
        state.choice = found;
    }
}

struct Search<'a> {
    order: &'a [usize],
    least: &'a [f64],
    best: f64,
    found: Option<Vec<Option<usize>>>,
    nodes: usize,
}

impl Search<'_> {
    fn branch(&mut self, state: &mut State, at: usize, cost: f64) {
        self.nodes += 1;
        if self.nodes > NODES || cost + self.least[at] >= self.best - EQUAL {
            return;
        }
        let Some(label) = self.order.get(at).copied() else {
            self.best = cost;
            self.found = Some(state.choice.clone());
            return;
        };
        for place in 0..state.graph.places[label].len() {
            if !state.open(label, place) {
                continue;
            }
            state.choice[label] = Some(place);
            self.branch(state, at + 1, cost + state.graph.places[label][place].cost);
            state.choice[label] = None;
        }
        self.branch(state, at + 1, cost + state.graph.worth[label]);
    }
}

/// Simulated annealing from the choice that stands: a label moves to a place, those in its way
/// give theirs up and take the cheapest that is left to them.
fn anneal(state: &mut State, cluster: &[usize]) {
    const HOT: f64 = 30.0;
    const COLD: f64 = 0.3;
    let graph = state.graph;
    let mut random = Random::new(0x6C61_6265_6C73 ^ cluster.len() as u64);
    let total = (cluster.len() * EVALUATIONS.0).min(EVALUATIONS.1);
    let mut cost = state.cost(cluster);
    let (mut best, mut best_cost) = (state.choice.clone(), cost);
    for step in 0..total {
        let label = cluster[random.below(cluster.len())];
        let count = graph.places[label].len();
        if count == 0 {
            continue;
        }
        // Cheaper places are tried more often.
        let place = random.below(count).min(random.below(count));
        if state.choice[label] == Some(place) {
            continue;
        }
        let mut undo = vec![(label, state.choice[label])];
        let mut change =
            graph.places[label][place].cost - state.cost_of(label, state.choice[label]);
        state.choice[label] = Some(place);
        let mut moved = Vec::new();
        for barred in &graph.excluded[label][place] {
            let other = barred.label();
            let Some(at) = state.choice[other].filter(|at| barred.holds(*at)) else {
                continue;
            };
            undo.push((other, Some(at)));
            state.choice[other] = None;
            change -= graph.places[other][at].cost;
            moved.push(other);
        }
        for other in moved {
            let at = state.cheapest(other);
            state.choice[other] = at;
            change += state.cost_of(other, at);
        }
        let heat = HOT * libm::pow(COLD / HOT, step as f64 / total as f64);
        if change <= 0.0 || random.unit() < libm::exp(-change / heat) {
            cost += change;
            if cost < best_cost - EQUAL {
                (best, best_cost) = (state.choice.clone(), cost);
            }
        } else {
            for (label, place) in undo.into_iter().rev() {
                state.choice[label] = place;
            }
        }
    }
    state.choice = best;
}

#[cfg(test)]
mod tests;
