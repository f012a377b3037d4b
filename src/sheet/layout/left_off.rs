//! What the last sheet of a full set says: which blocks found no room in it.
//!
//! In: the blocks that wait for the last sheet. Out: that sheet, with a list of the titles of those
//! that do not stand on it, and where to find what they say.

use super::arrange::Arrangement;
use super::tables::{self, Filled, Keep, Waiting};
use super::{MOST, NOTES};
use crate::language::{Languages, say};
use crate::sheet::column::{Block, Entry};

/// The titles of blocks, each once, as they were before they were parted.
fn titles(blocks: &[Waiting], languages: Languages) -> Vec<String> {
    let ending = say!(languages, " (cont.)");
    let mut titles: Vec<String> = Vec::new();
    for waiting in blocks {
        let title = waiting.block.title.trim_end_matches(&ending);
        if !titles.iter().any(|known| known == title) {
            titles.push(title.to_string());
        }
    }
    titles
}

/// The list of titles: the first so many, and how many more there are.
fn list(titles: &[String], named: usize, languages: Languages) -> Waiting {
    let mut entries = vec![Entry::plain(say!(
        languages,
        "A set has at most {most} sheets. The report says what these tables would: the file .report.json beside the sheets. A larger paper holds them.",
        most = MOST
    ))];
    let marks = titles.iter().take(named);
    entries.extend(marks.map(|title| Entry::marked("–", title)));
    if let Some(count) = titles.len().checked_sub(named).filter(|more| *more > 0) {
        entries.push(Entry::marked(
            "–",
            say!(languages, "and {count} more", count),
        ));
    }
    let block = Block::paragraphs(say!(languages, "Left off this set"), entries);
    Waiting::one_of_several(NOTES, block)
}

/// The last sheet of a set of [`MOST`], and the titles of what is left off; none where everything
/// that waits stands on it. Whatever waits stands on it complete or is left off.
pub(super) fn last(
    set: &Arrangement,
    waiting: &[Waiting],
    languages: Languages,
) -> Option<(Filled, Vec<String>)> {
    let filled = |blocks: &[Waiting]| tables::fill(set, blocks, Keep::Together, languages);
    if filled(waiting).left.is_empty() {
        return None;
    }
    // The list, with as many titles as one sheet has room for.
    let listed = |titles: &[String]| {
        let list = |named: usize| list(titles, named, languages);
        let fits = |named: usize| filled(&[list(named)]).left.is_empty();
        let most = match fits(titles.len()) {
            true => titles.len(),
            false => {
                let counts: Vec<usize> = (0..titles.len()).collect();
                counts.partition_point(|named| fits(*named)).max(1) - 1
            }
        };
        list(most)
    };
    let all = titles(waiting, languages);
    let title = |waiting: &Waiting| titles(std::slice::from_ref(waiting), languages).remove(0);
    // The list is longest where it names all: what stands under it then stands under a shorter one
    // too, unless blocks of several columns then stand otherwise.
    let mut list = listed(&all);
    let mut left: Vec<String> = Vec::new();
    loop {
        let mut blocks = vec![list];
        let stands = |w: &&Waiting| !left.contains(&title(w));
        blocks.extend(waiting.iter().filter(stands).cloned());
        let found = filled(&blocks);
        if !left.is_empty() && found.left.is_empty() {
            return Some((found, left));
        }
        let more = titles(&found.left, languages);
        left = all
            .iter()
            .filter(|title| left.contains(title) || more.contains(title))
            .cloned()
            .collect();
        if left.is_empty() {
            left.extend(all.last().cloned());
        }
        list = listed(&left);
    }
}

#[cfg(test)]
mod tests {
    use super::super::{arrange, parts, wanted};
    use super::*;
    use crate::draw::Item;
    use crate::draw::paper::{Orientation, Paper};
    use crate::sheet::column::Parting;
    use crate::sheet::content::Content;
    use crate::sheet::labels::Random;
    use crate::sheet::sample;
    use crate::sheet::table::{Align, Table};

    /// Wide and narrow blocks, high and low ones, whole ones and such as may be parted.
    fn blocks(random: &mut Random, most: usize) -> Vec<Waiting> {
        let count = 4 + random.below(most);
        let block = |random: &mut Random, title: String| {
            let entries = match random.below(3) {
                0 => vec![Entry::Drawing {
                    height: 8.0 + 140.0 * random.unit(),
                    items: Vec::new(),
                }],
                1 => {
                    let wide = "Wide ".repeat(1 + random.below(9));
                    let mut table = Table::new(&[("Row", Align::Left), (&wide, Align::Left)]);
                    for row in 0..1 + random.below(50) {
                        table.row(vec![format!("{row}"), wide.clone()]);
                    }
                    vec![Entry::Table(table)]
                }
                _ => (0..2 + random.below(40))
                    .map(|row| Entry::marked("–", format!("Sweep the joints of row {row}.")))
                    .collect(),
            };
            let parting = match random.below(3) {
                0 => Parting::Whole,
                _ => Parting::Allowed,
            };
            Block {
                title,
                entries,
                parting,
            }
        };
        (0..count)
            .map(|index| Waiting::whole(NOTES, block(random, format!("Block {index}."))))
            .collect()
    }

    fn lettered(items: &[Item]) -> Vec<&str> {
        let texts = items.iter().flat_map(|item| match item {
            Item::Text(text) => vec![text.text.as_str()],
            Item::Group(group) => lettered(&group.items),
            Item::Path(_) => Vec::new(),
        });
        texts.collect()
    }

    fn set(paper: Paper) -> Arrangement {
        let content = Content {
            paper: Some(paper),
            turned: Some(Orientation::Landscape),
            ..sample::content()
        };
        let parts = parts(&content);
        arrange::first(&content, wanted(&parts, 0, 0, &[]))
    }

    /// Whatever waits for the last sheet stands on it complete, or is named as left off.
    #[test]
    fn what_waits_stands_or_is_named() {
        let languages = Languages::default();
        let mut random = Random::new(7);
        let mut full = 0;
        for (paper, most) in [
            (Paper::Letter, 36),
            (Paper::Tabloid, 60),
            (Paper::ArchC, 90),
        ] {
            let set = set(paper);
            for _ in 0..15 {
                let waiting = blocks(&mut random, most);
                let Some((filled, left)) = last(&set, &waiting, languages) else {
                    continue;
                };
                full += 1;
                assert_eq!(filled.left, [], "{left:?}");
                let words = lettered(&filled.items);
                assert!(words.contains(&"Left off this set"));
                for title in titles(&waiting, languages) {
                    assert!(words.contains(&title.as_str()), "{title} is not named");
                    let stands = !left.contains(&title);
                    let shown = words.iter().filter(|word| **word == title).count();
                    assert_eq!(shown, 1, "{title} {stands}");
                }
            }
        }
        assert!(full > 25, "{full}");
    }

    /// A list of more titles than a sheet has room for says how many more there are.
    #[test]
    fn a_list_that_no_sheet_holds_counts_the_rest() {
        let languages = Languages::default();
        let waiting: Vec<Waiting> = (0..900)
            .map(|index| {
                let words = vec![Entry::plain("Sweep.")];
                Waiting::whole(NOTES, Block::paragraphs(format!("Block {index}."), words))
            })
            .collect();
        let (filled, left) = last(&set(Paper::Letter), &waiting, languages).expect("a full sheet");
        assert_eq!((left.len(), &filled.left), (900, &Vec::new()));
        let words = lettered(&filled.items);
        let named = left.iter().filter(|title| words.contains(&title.as_str()));
        let named = named.count();
        assert!(named > 40, "{named}");
        let more = format!("and {} more", 900 - named);
        assert!(words.contains(&more.as_str()), "{more} in {words:?}");
    }
}
