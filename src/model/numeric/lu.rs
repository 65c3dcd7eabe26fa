//! A small dense complex linear system on the stack.

use num_complex::Complex64;

/// A square complex system of `N` unknowns, factorised once and solved for any number of right sides.
///
/// Nothing is allocated; row interchanges keep it accurate, and a singular matrix is reported, not divided by. The size
/// is known to the compiler, which unrolls the loops of small systems.
#[derive(Clone, Debug)]
pub struct DenseSystem<const N: usize> {
    rows: [[Complex64; N]; N],
    order: [usize; N],
}

impl<const N: usize> Default for DenseSystem<N> {
    fn default() -> Self {
        Self::new()
    }
}

impl<const N: usize> DenseSystem<N> {
    /// A system with an all-zero matrix.
    #[must_use]
    pub fn new() -> Self {
        Self { rows: [[Complex64::ZERO; N]; N], order: std::array::from_fn(|i| i) }
    }

    /// Adds `value` to the element in `row` and `column`; outside the system nothing happens.
    #[inline]
    pub fn add(&mut self, row: usize, column: usize, value: Complex64) {
        if row < N && column < N {
            self.rows[row][column] += value;
        }
    }

    /// Factorises the matrix in place by Gauss elimination with partial pivoting, or `None` if it is singular.
    #[inline]
    #[must_use]
    pub fn factorised(mut self) -> Option<Factorised<N>> {
        let rows = &mut self.rows;
        for k in 0..N {
            let mut pivot = k;
            for row in k + 1..N {
                if rows[row][k].l1_norm() > rows[pivot][k].l1_norm() {
                    pivot = row;
                }
            }
            if pivot != k {
                rows.swap(k, pivot);
                self.order.swap(k, pivot);
            }
            let inverse = inverse(rows[k][k]);
            if !inverse.is_finite() {
                return None;
            }
            rows[k][k] = inverse;
            let upper = rows[k];
            for row in &mut rows[k + 1..] {
                let factor = row[k] * inverse;
                row[k] = factor;
                for column in k + 1..N {
                    row[column] -= factor * upper[column];
                }
            }
        }
        Some(Factorised(self))
    }
}

/// 1/z with one division.
#[inline]
fn inverse(z: Complex64) -> Complex64 {
    let scale = 1.0 / z.norm_sqr();
    Complex64::new(z.re * scale, -z.im * scale)
}

/// A [`DenseSystem`] ready to be solved.
#[derive(Clone, Debug)]
pub struct Factorised<const N: usize>(DenseSystem<N>);

impl<const N: usize> Factorised<N> {
    /// The solution for the right side `b`.
    #[inline]
    #[must_use]
    pub fn solve(&self, b: &[Complex64; N]) -> [Complex64; N] {
        let DenseSystem { rows, order } = &self.0;
        let mut x = [Complex64::ZERO; N];
        for i in 0..N {
            let mut rest = b[order[i]];
            for k in 0..i {
                rest -= rows[i][k] * x[k];
            }
            x[i] = rest;
        }
        for i in (0..N).rev() {
            let mut rest = x[i];
            for k in i + 1..N {
                rest -= rows[i][k] * x[k];
            }
            x[i] = rest * rows[i][i];
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
        let mut system = DenseSystem::<3>::new();
        let mut right = [Complex64::ZERO; 3];
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
        let mut system = DenseSystem::<2>::new();
        for (row, column) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            system.add(row, column, Complex64::ONE);
        }
        assert!(system.factorised().is_none());
    }
}
