//! TrueType files as their tables, taken apart and put together.
//!
//! In: the bytes of a file. Out: its tables by tag, and the other way round. Laid out as the
//! OpenType specification says ("Organization of an OpenType font"): tables in the order of their
//! tags, each filled up to four bytes, checksums over big-endian words.

use std::collections::BTreeMap;

/// Tables by their tags.
pub type Tables = BTreeMap<[u8; 4], Vec<u8>>;

/// The tables of a TrueType file.
pub fn tables(file: &[u8]) -> Tables {
    let raw = ttf_parser::RawFace::parse(file, 0).expect("a TrueType file has a table directory");
    raw.table_records
        .into_iter()
        .filter_map(|record| {
            let data = raw.table(record.tag)?;
            Some((record.tag.to_bytes(), data.to_vec()))
        })
        .collect()
}

/// A TrueType file of tables, in the order of their tags, with its checksums.
pub fn assemble(mut tables: Tables) -> Vec<u8> {
    const ADJUSTMENT: std::ops::Range<usize> = 8..12;
    if let Some(head) = tables.get_mut(b"head") {
        head[ADJUSTMENT].fill(0);
    }
    let count = u16::try_from(tables.len()).expect("a font has few tables");
    let power = count.ilog2();
    let range = 16_u16 << power;
    let mut file = vec![0, 1, 0, 0];
    for value in [count, range, power as u16, count * 16 - range] {
        file.extend(value.to_be_bytes());
    }
    let mut offset = 12 + 16 * tables.len();
    let mut head_at = None;
    for (tag, data) in &tables {
        if tag == b"head" {
            head_at = Some(offset);
        }
        file.extend(tag);
        for value in [checksum(data), offset as u32, data.len() as u32] {
            file.extend(value.to_be_bytes());
        }
        offset += data.len().next_multiple_of(4);
    }
    for data in tables.values() {
        file.extend(data);
        file.resize(file.len().next_multiple_of(4), 0);
    }
    if let Some(at) = head_at {
        let adjustment = 0xB1B0_AFBA_u32.wrapping_sub(checksum(&file));
        file[at + ADJUSTMENT.start..at + ADJUSTMENT.end].copy_from_slice(&adjustment.to_be_bytes());
    }
    file
}

/// Sum of the big-endian words of a table, the last one filled up with zeros.
pub fn checksum(data: &[u8]) -> u32 {
    data.chunks(4).fold(0_u32, |sum, chunk| {
        let mut word = [0; 4];
        word[..chunk.len()].copy_from_slice(chunk);
        sum.wrapping_add(u32::from_be_bytes(word))
    })
}
