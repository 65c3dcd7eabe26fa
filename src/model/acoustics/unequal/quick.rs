//! What unequal shares make of a box that is solved with all drivers alike: for the quick solution of many boxes.
use super::{CoilParts, Unequal, along, unit};
use num_complex::Complex64;

/// A box at one frequency with all drivers alike and 1 V at each, and the drivers in it.
pub(in crate::model::acoustics) struct Alike {
    /// Cone velocity, m/s.
    pub velocity: Complex64,
    /// One driver with all its coils in series, Ω, and its derivative by ω.
    pub whole: Complex64,
    /// Its derivative.
    pub whole_slope: Complex64,
    /// Its blocked coil without Re, Ω.
    pub coil: Complex64,
    /// Its derivative.
    pub coil_slope: Complex64,
    /// Its own mechanical impedance, N·s/m.
    pub cone: Complex64,
    /// Its derivative.
    pub cone_slope: Complex64,
}

/// What the shares make of it, for 1 V of the source.
pub(in crate::model::acoustics) struct Shares {
    /// Factor of every flow.
    pub factor: Complex64,
    /// Derivative of its phase by ω, s.
    pub turned: f64,
    /// Velocity of the cone that moves most.
    pub furthest: Complex64,
    /// Current of the coil with most of it.
    pub hardest: Complex64,
    /// Current of the line.
    pub line: Complex64,
}

impl Unequal {
    /// The shares at one frequency, or `None` where the wiring has no single response.
    pub(in crate::model::acoustics) fn shares(&self, alike: &Alike) -> Option<Shares> {
        match self.circuit.loops.count {
            0..=2 => self.shared::<2>(alike),
            3..=4 => self.shared::<4>(alike),
            5..=8 => self.shared::<8>(alike),
            _ => self.shared::<{ super::MOST }>(alike),
        }
    }

    fn shared<const N: usize>(&self, alike: &Alike) -> Option<Shares> {
        let circuit = &self.circuit;
        let n = circuit.loops.count;
        let per_coil = 1.0 / (self.coils * self.coils);
        let (re, bl) = (self.load.driver.re.ohms(), self.load.driver.bl.tesla_metres());
        let motion = bl * bl / alike.cone * per_coil;
        let parts = CoilParts {
            resistance: re / self.coils,
            former: alike.coil * (self.formers * per_coil),
            apart: motion,
            together: (alike.whole - alike.coil - re) * per_coil,
        };
        let slopes = CoilParts {
            resistance: 0.0,
            former: alike.coil_slope * (self.formers * per_coil),
            apart: -motion * alike.cone_slope / alike.cone,
            together: (alike.whole_slope - alike.coil_slope) * per_coil,
        };
        let factorised = circuit.system::<N>(&parts, self.source).factorised()?;
        let currents = factorised.solve(&unit::<N>());
        // A·i = e, so A·di/dω = −dA/dω·i.
        let mut right = [Complex64::ZERO; N];
        for (i, right) in right.iter_mut().enumerate().take(n) {
            for (j, current) in currents.iter().enumerate().take(n) {
                *right -= circuit.element(&slopes, i, j) * current;
            }
        }
        let changes = factorised.solve(&right);
        let cones = circuit.cones.len().max(1) as f64;
        let mean = along(&circuit.all, &currents) / cones;
        let factor = mean * alike.whole / self.coils;
        let slope = along(&circuit.all, &changes) / cones / mean + alike.whole_slope / alike.whole;
        let largest = |a: Complex64, b: Complex64| if b.norm_sqr() > a.norm_sqr() { b } else { a };
        let apart = bl / self.coils / alike.cone;
        let velocity = |row: &Vec<f64>| alike.velocity * factor + (along(row, &currents) - mean) * apart;
        let shares = Shares {
            factor,
            turned: slope.im,
            furthest: circuit.cones.iter().map(velocity).fold(Complex64::ZERO, largest),
            hardest: circuit
                .loops
                .coils
                .iter()
                .map(|(_, row)| along(row, &currents))
                .fold(Complex64::ZERO, largest),
            line: *currents.first()?,
        };
        shares.factor.is_finite().then_some(shares)
    }
}
