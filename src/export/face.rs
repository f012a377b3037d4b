//! Font files for embedding, cut down to the characters that are drawn.
//!
//! In: a face and a set of characters. Out: TrueType bytes. The outlines are cut down by
//! `subsetter`, whose files lack the character map (`cmap`) and metrics (`OS/2`) that a browser
//! asks for; [`for_browser`] puts those back ("cmap: format 4" of the OpenType specification). None
//! of the files holds kerning or substitution tables, so every reader sets the plain advances that
//! `draw::font` measures.

use std::collections::{BTreeMap, BTreeSet};

use subsetter::GlyphRemapper;

use crate::draw::{Face, Item, Sheet, font, truetype};

/// A face cut down to some characters.
pub(super) struct Subset {
    /// The TrueType file, without a character map.
    pub file: Vec<u8>,
    /// The glyph number in that file of each character.
    pub glyphs: BTreeMap<char, u16>,
}

/// The characters drawn in each face, as drawn.
pub(super) fn used(sheets: &[Sheet]) -> BTreeMap<Face, BTreeSet<char>> {
    let mut found = BTreeMap::new();
    for sheet in sheets {
        collect(&sheet.items, &mut found);
    }
    found
}

fn collect(items: &[Item], found: &mut BTreeMap<Face, BTreeSet<char>>) {
    for item in items {
        match item {
            Item::Group(group) => collect(&group.items, found),
            Item::Text(text) if !text.text.is_empty() => found
                .entry(text.face)
                .or_default()
                .extend(font::drawable(&text.text).chars()),
            Item::Text(_) | Item::Path(_) => {}
        }
    }
}

/// Cuts a face down to the given characters.
pub(super) fn subset(face: Face, chars: &BTreeSet<char>) -> Subset {
    let mut mapper = GlyphRemapper::new();
    let glyphs = chars
        .iter()
        .map(|&c| (c, mapper.remap(font::glyph(face, c))))
        .collect();
    let file = subsetter::subset(font::bytes(face), 0, &mapper)
        .expect("the bundled faces can be cut down");
    Subset { file, glyphs }
}

/// The cut-down face with what a browser asks for besides the outlines.
pub(super) fn for_browser(face: Face, subset: &Subset) -> Vec<u8> {
    let mut tables = truetype::tables(&subset.file);
    let whole = truetype::tables(font::bytes(face));
    for tag in [*b"OS/2", *b"name"] {
        if let Some(table) = whole.get(&tag) {
            tables.insert(tag, table.clone());
        }
    }
    tables.insert(*b"cmap", character_map(&subset.glyphs));
    tables.insert(*b"post", nameless_post());
    truetype::assemble(tables)
}

/// The whole face without kerning and substitution.
pub(super) fn for_renderer(face: Face) -> Vec<u8> {
    let mut tables = truetype::tables(font::bytes(face));
    for tag in [*b"GSUB", *b"GPOS", *b"GDEF", *b"kern"] {
        tables.remove(&tag);
    }
    truetype::assemble(tables)
}

/// A `cmap` table with one Unicode subtable of format 4, one segment to a character. The bundled
/// faces have no character beyond the basic plane.
fn character_map(glyphs: &BTreeMap<char, u16>) -> Vec<u8> {
    let mut segments: Vec<(u16, u16)> = glyphs
        .iter()
        .filter_map(|(&c, &glyph)| Some((u16::try_from(u32::from(c)).ok()?, glyph)))
        .map(|(c, glyph)| (c, glyph.wrapping_sub(c)))
        .collect();
    segments.push((0xFFFF, 1));
    let count = u16::try_from(segments.len()).expect("segments of 16-bit characters");
    let power = count.ilog2();
    let range = 2_u16 << power;

    let mut words = vec![0_u16, 1, 3, 1, 0, 12];
    words.extend([4, 16 + 8 * count, 0, count * 2]);
    words.extend([range, power as u16, count * 2 - range]);
    words.extend(segments.iter().map(|s| s.0));
    words.push(0);
    words.extend(segments.iter().map(|s| s.0));
    words.extend(segments.iter().map(|s| s.1));
    words.extend(segments.iter().map(|_| 0));
    words.into_iter().flat_map(u16::to_be_bytes).collect()
}

/// A `post` table of version 3: no glyph names.
fn nameless_post() -> Vec<u8> {
    let mut table = vec![0; 32];
    table[..4].copy_from_slice(&0x0003_0000_u32.to_be_bytes());
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_browser_font_maps_every_character_to_its_advance() {
        let chars: BTreeSet<char> = "12'-6½\" Øfi".chars().collect();
        for face in [Face::Regular, Face::SemiBold] {
            let subset = subset(face, &chars);
            let file = for_browser(face, &subset);
            assert!(file.len() < font::bytes(face).len() / 4);
            let parsed = ttf_parser::Face::parse(&file, 0).expect("the file can be read");
            for &c in &chars {
                let glyph = parsed.glyph_index(c).expect("the character is mapped");
                assert_eq!(glyph.0, subset.glyphs[&c]);
                assert_eq!(
                    parsed.glyph_hor_advance(glyph),
                    Some(font::advance(face, c))
                );
            }
            assert_eq!(parsed.glyph_index('Q'), None);
            assert_eq!(truetype::checksum(&file), 0xB1B0_AFBA);
        }
    }

    #[test]
    fn a_renderer_font_keeps_all_but_the_shaping() {
        let file = for_renderer(Face::Regular);
        let parsed = ttf_parser::Face::parse(&file, 0).expect("the file can be read");
        assert!(parsed.tables().gsub.is_none() && parsed.tables().gpos.is_none());
        assert_eq!(
            parsed.glyph_index('H').map(|g| g.0),
            Some(font::glyph(Face::Regular, 'H'))
        );
    }
}
