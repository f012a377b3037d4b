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

/// The list of titles.
fn list(titles: &[String], languages: Languages) -> Waiting {
    let mut entries = vec![Entry::plain(say!(
        languages,
        "A set has at most {most} sheets. The report says what these tables would: the file .report.json beside the sheets. A larger paper holds them.",
        most = MOST
    ))];
    entries.extend(titles.iter().map(|title| Entry::marked("–", title)));
    Waiting {
        name: NOTES.to_string(),
        block: Block::paragraphs(say!(languages, "Left off this set"), entries),
    }
}

/// The last sheet of a set of [`MOST`], and the titles of what is left off; none where everything
/// that waits stands on it.
pub(super) fn last(
    set: &Arrangement,
    waiting: &[Waiting],
    languages: Languages,
) -> Option<(Filled, Vec<String>)> {
    let filled = |blocks: &[Waiting]| tables::fill(set, blocks, Keep::Together, languages);
    if filled(waiting).left.is_empty() {
        return None;
    }
    // The list is longest where it names all: what stands under it then stands under a shorter one.
    let mut blocks = vec![list(&titles(waiting, languages), languages)];
    blocks.extend(waiting.iter().cloned());
    let left = filled(&blocks).left;
    let left = titles(&left, languages);
    let stands = |w: &&Waiting| !left.contains(&titles(std::slice::from_ref(*w), languages)[0]);
    let mut blocks = vec![list(&left, languages)];
    blocks.extend(waiting.iter().filter(stands).cloned());
    Some((filled(&blocks), left))
}
