//! How many sheets are needed whatever the layout.
use super::job::Grown;

/// A share of a side that any row of panels that fits keeps within one: dual feasible functions.
#[derive(Clone, Copy)]
enum Share {
    /// The length itself.
    Plain,
    /// Panels longer than all but `small` count whole, those shorter than it not at all.
    Large(i64),
    /// Rounded down to so many parts, unless it is such a part exactly.
    Steps(i64),
}

impl Share {
    fn of(self, size: i64, whole: i64) -> f64 {
        let plain = size as f64 / whole as f64;
        match self {
            Self::Plain => plain,
            Self::Large(small) if size > whole - small => 1.0,
            Self::Large(small) if size < small => 0.0,
            Self::Large(_) => plain,
            Self::Steps(k) => {
                let parts = i128::from(size) * i128::from(k + 1);
                if parts % i128::from(whole) == 0 {
                    plain
                } else {
                    (parts / i128::from(whole)) as f64 / k as f64
                }
            }
        }
    }
}

/// Least number of sheets of the largest size.
///
/// # Source
/// Dual feasible functions: S. P. Fekete, J. Schepers, New classes of fast lower bounds for bin packing problems, Math.
/// Program. 91 (2001) 11 (from memory). A panel that may be turned counts with the lesser of its two ways.
pub(super) fn least_sheets(grown: &Grown) -> usize {
    let whole = [0, 1].map(|axis| grown.sheets.iter().map(|sheet| sheet[axis]).max().unwrap_or(1).max(1));
    let shares = [0, 1].map(|axis| shares(grown, whole[axis]));
    let mut least = 1.0_f64;
    for along in &shares[0] {
        for across in &shares[1] {
            let mut sum = 0.0;
            for kind in 0..grown.sizes.len() {
                let ways = grown
                    .ways(kind)
                    .map(|(size, _)| along.of(size[0], whole[0]) * across.of(size[1], whole[1]));
                sum += ways.fold(f64::INFINITY, f64::min) * grown.counts[kind] as f64;
            }
            least = least.max(sum);
        }
    }
    (least - 1e-9).ceil() as usize
}

fn shares(grown: &Grown, whole: i64) -> Vec<Share> {
    let mut shares = vec![Share::Plain];
    shares.extend((1..=6).map(Share::Steps));
    let mut smalls: Vec<i64> = Vec::new();
    for side in grown.sizes.iter().flatten().flat_map(|&side| [side, whole - side + 1]) {
        if side > 0 && 2 * side <= whole && !smalls.contains(&side) && smalls.len() < 40 {
            smalls.push(side);
        }
    }
    shares.extend(smalls.into_iter().map(Share::Large));
    shares
}
