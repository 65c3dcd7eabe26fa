//! A small dense complex linear system on the stack.

use num_complex::Complex64;

/// A square complex system of at most `N` unknowns, factorised once and solved for any number of right sides.
///
/// Nothing is allocated; row interchanges keep it accurate, and a singular matrix is reported, not divided by.
#[derive(Clone, Debug)]
pub struct DenseSystem<const N: usize> {
    rows: [[Complex64; N]; N],
    order: [usize; N],
    size: usize,
}

impl<const N: usize> DenseSystem<N> {
    /// A system of `size` unknowns with an all-zero matrix; more than `N` unknowns are cut to `N`.
    #[must_use]
    pub fn new(size: usize) -> Self {
        Self {
            rows: [[Complex64::ZERO; N]; N],
            order: std::array::from_fn(|i| i),
            size: size.min(N),
        }
    }

    /// Adds `value` to the element in `row` and `column`; outside the system nothing happens.
    #[inline]
    pub fn add(&mut self, row: usize, column: usize, value: Complex64) {
        if row < self.size && column < self.size {
            self.rows[row][column] += value;
        }
    }

    /// Factorises the matrix in place by Gauss elimination with partial pivoting, or `None` if it is singular.
    #[must_use]
    pub fn factorised(mut self) -> Option<Factorised<N>> {
        let n = self.size;
        for k in 0..n {
            let magnitude = |row: &[Complex64; N]| row[k].l1_norm();
            let mut pivot = k;
            for row in k + 1..n {
                if magnitude(&self.rows[row]) > magnitude(&self.rows[pivot]) {
                    pivot = row;
                }
            }
            self.rows.swap(k, pivot);
            self.order.swap(k, pivot);
            let inverse = self.rows[k][k].inv();
            if !inverse.is_finite() {
                return None;
            }
            self.rows[k][k] = inverse;
            let (above, below) = self.rows.split_at_mut(k + 1);
            let upper = &above[k];
            for row in below.iter_mut().take(n - k - 1) {
                if row[k] == Complex64::ZERO {
                    continue;
                }
                let factor = row[k] * inverse;
                row[k] = factor;
                for (x, u) in row[k + 1..n].iter_mut().zip(&upper[k + 1..n]) {
                    *x -= factor * u;
                }
            }
        }
        Some(Factorised(self))
    }
}

/// A [`DenseSystem`] ready to be solved.
#[derive(Clone, Debug)]
pub struct Factorised<const N: usize>(DenseSystem<N>);

impl<const N: usize> Factorised<N> {
    /// The solution for the right side `b`; elements past the size of the system are zero.
    #[must_use]
    pub fn solve(&self, b: &[Complex64; N]) -> [Complex64; N] {
        let system = &self.0;
        let n = system.size;
        let mut x = [Complex64::ZERO; N];
        for i in 0..n {
            let row = &system.rows[i];
            let known: Complex64 = row[..i].iter().zip(&x[..i]).map(|(l, x)| l * x).sum();
            x[i] = b[system.order[i]] - known;
        }
        for i in (0..n).rev() {
            let row = &system.rows[i];
            let known: Complex64 = row[i + 1..n]
                .iter()
                .zip(&x[i + 1..n])
                .map(|(u, x)| u * x)
                .sum();
            x[i] = (x[i] - known) * row[i];
        }
        x
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Choose the answer, build the problem, solve it; the first pivot is zero on purpose.
    #[test]
    fn a_chosen_answer_comes_back() {
        let c = Complex64::new;
        let matrix = [
            [c(0.0, 0.0), c(2.0, -1.0), c(0.0, 3.0)],
            [c(1.0, 1.0), c(-4.0, 0.5), c(2.0, 0.0)],
            [c(3.0, 0.0), c(0.0, 1.0), c(-1.0, -1.0)],
        ];
        let answer = [c(1.0, -2.0), c(0.5, 0.25), c(-3.0, 1.0)];
        let mut system = DenseSystem::<4>::new(3);
        let mut right = [Complex64::ZERO; 4];
        for (i, row) in matrix.iter().enumerate() {
            for (k, value) in row.iter().enumerate() {
                system.add(i, k, *value);
                right[i] += value * answer[k];
            }
        }
        let solution = system.factorised().unwrap().solve(&right);
        for (got, want) in solution.iter().zip(&answer) {
            assert!((got - want).norm() < 1e-13, "got {got}, want {want}");
        }
    }

    #[test]
    fn equal_rows_are_singular() {
        let mut system = DenseSystem::<2>::new(2);
        for (row, column) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            system.add(row, column, Complex64::ONE);
        }
        assert!(system.factorised().is_none());
    }
}
