//! Multisets of panel kinds as numbers: how many of each, in a mixed radix.

/// All multisets that take at most so many of each kind.
#[derive(Clone, Debug)]
pub(super) struct Multisets {
    counts: Vec<usize>,
    strides: Vec<usize>,
    /// How many there are.
    pub(super) len: usize,
}

impl Multisets {
    pub(super) fn new(counts: &[usize]) -> Self {
        let mut strides = Vec::new();
        let mut len = 1;
        for &count in counts {
            strides.push(len);
            len *= count + 1;
        }
        Self { counts: counts.to_vec(), strides, len }
    }
    /// How many pairs of a multiset and a part of it there are; `None` where that is beyond counting.
    pub(super) fn pairs(counts: &[usize]) -> Option<usize> {
        counts.iter().try_fold(1_usize, |product, &count| product.checked_mul((count + 1) * (count + 2) / 2))
    }
    /// How many of each kind.
    pub(super) fn digits(&self, mut index: usize, into: &mut Vec<usize>) {
        into.clear();
        for &count in &self.counts {
            into.push(index % (count + 1));
            index /= count + 1;
        }
    }
    /// The multiset of one panel.
    pub(super) fn single(&self, kind: usize) -> usize {
        self.strides[kind]
    }
    /// The multiset of everything.
    pub(super) fn all(&self) -> usize {
        self.len - 1
    }
    /// Calls `visit` with every part of a multiset that is neither empty nor all of it, largest numbers last. The part
    /// of number t leaves the part of number index − t. It stops where `visit` says so.
    pub(super) fn parts(&self, digits: &[usize], mut visit: impl FnMut(usize) -> bool) {
        let mut now = vec![0; digits.len()];
        let mut index = 0;
        loop {
            let mut place = 0;
            while place < digits.len() && now[place] == digits[place] {
                index -= now[place] * self.strides[place];
                now[place] = 0;
                place += 1;
            }
            if place == digits.len() {
                return;
            }
            now[place] += 1;
            index += self.strides[place];
            if now.iter().zip(digits).all(|(a, b)| a == b) {
                return;
            }
            if !visit(index) {
                return;
            }
        }
    }
}
