//! Cutting lengths from stock of one length: first fit in decreasing order (Johnson 1973), used
//! for roll goods and for edge restraint. Millimetres. No kerf is allowed for.

/// For each length, the stock piece it is cut from, numbered from 0 as they are opened. The
/// longest is placed first, each in the first stock piece that still holds it within 0.5 mm;
/// equal lengths keep their order. A length over the stock takes a stock piece to itself.
///
/// ```
/// use groundsheet::textile::cutting::first_fit_decreasing;
/// // 4 + 6 and 5 + 3 out of 10
/// assert_eq!(first_fit_decreasing(&[4.0, 5.0, 3.0, 6.0], 10.0), [0, 1, 1, 0]);
/// ```
pub fn first_fit_decreasing(lengths: &[f64], stock: f64) -> Vec<usize> {
    let mut order: Vec<usize> = (0..lengths.len()).collect();
    order.sort_by(|&a, &b| lengths[b].total_cmp(&lengths[a]));
    let mut left: Vec<f64> = Vec::new();
    let mut from = vec![0; lengths.len()];
    for index in order {
        let fits = left.iter().position(|&rest| lengths[index] <= rest + 0.5);
        let piece = fits.unwrap_or_else(|| {
            left.push(stock);
            left.len() - 1
        });
        left[piece] -= lengths[index];
        from[index] = piece;
    }
    from
}
