//! Load and shares of a wiring.
use super::{CoilId, CoilSet, Join, Tree};
use crate::model::error::ModelError;
use crate::units::Resistance;

/// What one coil takes of the whole, by DC resistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilShare {
    /// The coil.
    pub coil: CoilId,
    /// Part of the power, 0 to 1; all parts sum to 1.
    pub power: f64,
    /// Part of the line's voltage, 0 to 1.
    pub voltage: f64,
    /// Part of the line's current, 0 to 1.
    pub current: f64,
}

/// Load and shares of a wiring.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Nominal load.
    pub nominal: Resistance,
    /// DC resistance at the box terminals, cold.
    pub dc: Resistance,
    /// Lowest DC resistance, every coil at the low end of its tolerance.
    pub dc_low: Resistance,
    /// Highest DC resistance, every coil at the high end of its tolerance.
    pub dc_high: Resistance,
    /// Shares in the order of the tree.
    pub shares: Vec<CoilShare>,
    /// Whether all coils take the same power, within a millionth.
    pub equal_shares: bool,
}

impl Tree {
    /// Load and shares with the coils of `set`.
    ///
    /// A resistive model: shares are those of slow signals, by DC resistance; driver impedance near resonance and
    /// coupling between coils of one driver are not in it.
    ///
    /// # Errors
    /// As [`Tree::validate`].
    pub fn figures(&self, set: &CoilSet) -> Result<Figures, ModelError> {
        self.validate(set)?;
        let nominal = |id| set.get(id).map_or(0.0, |coil| coil.nominal.ohms());
        let scaled = |sign: f64| {
            move |id| set.get(id).map_or(0.0, |c| c.dc.ohms() * (1.0 + sign * c.tolerance_percent / 100.0))
        };
        let dc = scaled(0.0);
        let mut shares = Vec::new();
        self.share_out(&dc, 1.0, 1.0, &mut shares);
        let even = 1.0 / shares.len().max(1) as f64;
        let equal_shares = shares.iter().all(|share| (share.power - even).abs() < 1e-6);
        Ok(Figures {
            nominal: Resistance::from_ohms(self.resistance_ohm(&nominal)),
            dc: Resistance::from_ohms(self.resistance_ohm(&dc)),
            dc_low: Resistance::from_ohms(self.resistance_ohm(&scaled(-1.0))),
            dc_high: Resistance::from_ohms(self.resistance_ohm(&scaled(1.0))),
            shares,
            equal_shares,
        })
    }

    /// Resistance of the whole where every coil has 1 Ω.
    #[must_use]
    pub fn of_equal_coils(&self) -> f64 {
        self.resistance_ohm(&|_| 1.0)
    }

    fn resistance_ohm(&self, of: &impl Fn(CoilId) -> f64) -> f64 {
        match self {
            Self::Coil(id) => of(*id),
            Self::Series(members) => members.iter().map(|m| m.resistance_ohm(of)).sum(),
            Self::Parallel(members) => 1.0 / members.iter().map(|m| 1.0 / m.resistance_ohm(of)).sum::<f64>(),
        }
    }

    fn share_out(
        &self,
        of: &impl Fn(CoilId) -> f64,
        voltage: f64,
        current: f64,
        shares: &mut Vec<CoilShare>,
    ) {
        let Some((join, members)) = self.members() else {
            if let Self::Coil(coil) = *self {
                shares.push(CoilShare { coil, power: voltage * current, voltage, current });
            }
            return;
        };
        let whole = self.resistance_ohm(of);
        for member in members {
            let part = member.resistance_ohm(of);
            match join {
                Join::Series => member.share_out(of, voltage * part / whole, current, shares),
                Join::Parallel => member.share_out(of, voltage, current * whole / part, shares),
            }
        }
    }
}
