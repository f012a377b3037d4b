//! Which of many boxes come near each other, and what is joined into groups.
//!
//! In: boxes in millimetres. Out: the pairs near each other, told one by one. Method: a line swept
//! from left to right over the boxes, beside which only those that it cuts are open. Groups are a
//! union-find forest whose roots are the first members.

use super::ring::Bounds;

/// Tells each pair of boxes that come within `gap` of each other: the one that begins farther left
/// first, of two that begin alike the earlier one.
pub fn each_near(boxes: &[Bounds], gap: f64, mut tell: impl FnMut(usize, usize)) {
    let mut by_left: Vec<usize> = (0..boxes.len()).collect();
    by_left.sort_by(|a, b| boxes[*a].min.x.total_cmp(&boxes[*b].min.x));
    // Those that reach over the place where the next begins.
    let mut open: Vec<usize> = Vec::new();
    for next in by_left {
        open.retain(|at| boxes[*at].max.x + gap >= boxes[next].min.x);
        for at in &open {
            if boxes[*at].near(boxes[next], gap) {
                tell(*at, next);
            }
        }
        open.push(next);
    }
}

/// Things joined into groups, each thing by its index.
pub struct Groups(Vec<usize>);

impl Groups {
    /// So many things, each in a group of its own.
    pub fn apart(count: usize) -> Self {
        Self((0..count).collect())
    }

    /// Joins the groups of two things.
    pub fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.first(a), self.first(b));
        self.0[a.max(b)] = a.min(b);
    }

    /// The first thing of a thing's group.
    pub fn first(&mut self, of: usize) -> usize {
        let mut at = of;
        while self.0[at] != at {
            self.0[at] = self.0[self.0[at]];
            at = self.0[at];
        }
        at
    }

    /// The groups in the order of their first things, each in order.
    pub fn lists(mut self) -> Vec<Vec<usize>> {
        let mut groups: Vec<Vec<usize>> = vec![Vec::new(); self.0.len()];
        for at in 0..self.0.len() {
            groups[self.first(at)].push(at);
        }
        groups.retain(|group| !group.is_empty());
        groups
    }
}

#[cfg(test)]
mod tests {
    use super::super::Point;
    use super::*;

    /// By hand: boxes of 2 mm by 2 mm, the third touching the first within the gap, the last above
    /// all of them.
    #[test]
    fn near_pairs_are_told_once_from_the_left() {
        let boxes = [(4.0, 0.0), (-3.0, 0.0), (6.5, 1.0), (4.0, 9.0)].map(|(x, y)| Bounds {
            min: Point::new(x, y),
            max: Point::new(x + 2.0, y + 2.0),
        });
        let mut pairs = Vec::new();
        each_near(&boxes, 1.0, |a, b| pairs.push((a, b)));
        assert_eq!(pairs, [(0, 2)]);
    }

    #[test]
    fn what_is_joined_to_one_is_joined_to_all_of_its_group() {
        let mut groups = Groups::apart(6);
        for (a, b) in [(5, 3), (1, 4), (3, 1)] {
            groups.join(a, b);
        }
        assert_eq!(groups.first(5), 1);
        assert_eq!(groups.lists(), [vec![0], vec![1, 3, 4, 5], vec![2]]);
    }
}
