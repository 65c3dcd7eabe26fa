//! Chance that is the same every time: shuffled equal parts of a range.

/// A generator of numbers with a fixed start.
///
/// # Source
/// SplitMix64: Steele, Lea & Flood, OOPSLA 2014; constants from memory. Nothing rests on its finer qualities.
pub(super) struct Chance(u64);

impl Chance {
    /// The one start there is.
    pub(super) const fn new() -> Self {
        Self(0x6b65_7266_2063_6f69)
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// From 0 up to 1, 1 left out.
    fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// `count` numbers from −1 to 1, one in each of as many equal parts, shuffled (McKay, Beckman & Conover 1979).
    pub(super) fn spread(&mut self, count: usize) -> Vec<f64> {
        let mut values: Vec<f64> =
            (0..count).map(|part| 2.0 * (part as f64 + self.share()) / count as f64 - 1.0).collect();
        for last in (1..count).rev() {
            let other = (self.share() * (last + 1) as f64) as usize;
            values.swap(last, other.min(last));
        }
        values
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A flat distribution from −1 to 1 has a mean of 0 and a mean square of 1/3; shuffled, it goes with no other.
    #[test]
    fn every_part_is_used_once_and_in_no_order() {
        let mut chance = Chance::new();
        let (a, b) = (chance.spread(300), chance.spread(300));
        let mut parts: Vec<usize> = a.iter().map(|x| ((x + 1.0) * 150.0) as usize).collect();
        assert_ne!(parts, (0..300).collect::<Vec<_>>());
        parts.sort_unstable();
        assert_eq!(parts, (0..300).collect::<Vec<_>>());
        let mean = |x: &[f64], y: &[f64]| x.iter().zip(y).map(|(x, y)| x * y).sum::<f64>() / 300.0;
        assert!((mean(&a, &a) - 1.0 / 3.0).abs() < 1e-3);
        assert!(mean(&a, &b).abs() < 0.05, "{}", mean(&a, &b));
        assert_eq!(Chance::new().spread(300), a);
    }
}
