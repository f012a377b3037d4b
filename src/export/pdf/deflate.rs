//! Compression of many streams at once, the large ones piece by piece.
//!
//! In: the streams' bytes. Out: for each the zlib form (RFC 1950) that FlateDecode wants. A large
//! stream is cut into pieces that are deflated each by itself and stand one after another in one
//! deflate stream: each but the last ends with an empty stored block, at a full byte (RFC 1951,
//! 3.2.4). Where it is cut depends on its length alone, so that any number of threads gives the same
//! bytes.

use std::io::Write;

use flate2::Compression;
use flate2::write::DeflateEncoder;

use crate::parallel;

/// Deflate level: level 9 takes three times as long for a hundredth less.
const LEVEL: u32 = 6;

/// The same for streams longer than a piece: a quarter of the time for a twentieth more.
const LEVEL_LARGE: u32 = 3;

/// Bytes of a piece.
const PIECE: usize = 1 << 20;

/// The first two bytes: deflate with a window of 32 kB.
const HEADER: [u8; 2] = [0x78, 0x9c];

/// A part of a stream to be deflated.
struct Piece<'a> {
    bytes: &'a [u8],
    level: u32,
    last: bool,
}

/// The zlib form of each stream.
pub(super) fn packed(streams: &[&[u8]]) -> Vec<Vec<u8>> {
    let cut: Vec<Vec<Piece>> = streams.iter().map(|stream| pieces(stream)).collect();
    let all: Vec<&Piece> = cut.iter().flatten().collect();
    let mut done = parallel::map(&all, |piece| deflated(piece)).into_iter();
    streams
        .iter()
        .zip(&cut)
        .map(|(stream, pieces)| {
            let mut bytes = HEADER.to_vec();
            done.by_ref()
                .take(pieces.len())
                .for_each(|piece| bytes.extend(piece));
            bytes.extend(adler32(stream).to_be_bytes());
            bytes
        })
        .collect()
}

fn pieces(stream: &[u8]) -> Vec<Piece<'_>> {
    if stream.len() <= PIECE {
        let (bytes, level) = (stream, LEVEL);
        return vec![Piece {
            bytes,
            level,
            last: true,
        }];
    }
    let count = stream.len().div_ceil(PIECE);
    let cut = stream.chunks(PIECE).enumerate();
    cut.map(|(index, bytes)| Piece {
        bytes,
        level: LEVEL_LARGE,
        last: index + 1 == count,
    })
    .collect()
}

fn deflated(piece: &Piece) -> Vec<u8> {
    let mut encoder = DeflateEncoder::new(Vec::new(), Compression::new(piece.level));
    let whole = encoder
        .write_all(piece.bytes)
        .and_then(|()| match piece.last {
            true => encoder.try_finish(),
            false => encoder.flush(),
        });
    whole.expect("writing to memory does not fail");
    std::mem::take(encoder.get_mut())
}

/// The checksum at the end of a zlib stream (RFC 1950, 8.2).
fn adler32(bytes: &[u8]) -> u32 {
    const BASE: u32 = 65_521;
    /// So many bytes keep the sums within 32 bits.
    const RUN: usize = 5552;
    let (mut a, mut b) = (1_u32, 0_u32);
    for run in bytes.chunks(RUN) {
        for byte in run {
            a += u32::from(*byte);
            b += a;
        }
        (a, b) = (a % BASE, b % BASE);
    }
    b << 16 | a
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use flate2::read::ZlibDecoder;
    use flate2::write::ZlibEncoder;

    use super::*;

    /// Text such as a page has, of about so many bytes.
    fn page(length: usize) -> Vec<u8> {
        let steps = (0..length / 8).map(|k| format!("{} {} l\n", k * k % 9973, k % 7));
        let mut bytes = steps.collect::<String>().into_bytes();
        bytes.truncate(length);
        bytes
    }

    /// Worked by hand: after the three bytes a is 1 + 97 + 98 + 99 = 295, b is 98 + 196 + 295 = 589.
    #[test]
    fn checksum_of_a_word() {
        assert_eq!(adler32(b"abc"), 589 << 16 | 295);
        assert_eq!(adler32(b""), 1);
    }

    /// Lengths round the ends of pieces: what is unpacked, its checksum proved by the reader, is
    /// what was packed.
    #[test]
    fn what_is_unpacked_is_what_was_packed() {
        let lengths = [
            0,
            1,
            70_000,
            PIECE - 1,
            PIECE,
            PIECE + 1,
            2 * PIECE,
            3 * PIECE + 5,
        ];
        let streams: Vec<Vec<u8>> = lengths.into_iter().map(page).collect();
        let plain: Vec<&[u8]> = streams.iter().map(|stream| &stream[..]).collect();
        let all = packed(&plain);
        for (packed, stream) in all.iter().zip(&streams) {
            let mut reader = ZlibDecoder::new(&packed[..]);
            let mut found = Vec::new();
            reader.read_to_end(&mut found).expect("it can be unpacked");
            assert!(found == *stream, "{} bytes", stream.len());
            assert_eq!(reader.total_in(), packed.len() as u64, "nothing follows");
        }
    }

    /// A stream of one piece is what the library writes by itself.
    #[test]
    fn a_short_stream_is_deflated_in_one() {
        let stream = page(200_000);
        let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(LEVEL));
        encoder.write_all(&stream).expect("there is memory");
        let plain = encoder.finish().expect("there is memory");
        assert_eq!(packed(&[&stream]), [plain]);
    }
}
