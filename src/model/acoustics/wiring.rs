//! Several identical drivers sharing the same air, and how their coils are connected.

use super::Driver;
use super::check::within;
use crate::model::error::ModelError;
use crate::units::Resistance;

/// A balanced connection of the coils of `drivers` identical drivers.
///
/// With nc coils on each cone, s coils in series in each path and p paths in parallel (s·p = drivers·nc), the terminals
/// of one driver, all its coils counted in series, carry `1/series_factor` of the total voltage and `1/parallel` of the
/// total current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wiring {
    /// Number of cones.
    pub drivers: usize,
    /// s/nc: total voltage over the voltage of one driver with its coils in series.
    pub series_factor: f64,
    /// p: total current over the current in one coil.
    pub parallel: f64,
}

impl Wiring {
    /// One driver with its coils in series.
    pub const SINGLE: Self = Self { drivers: 1, series_factor: 1.0, parallel: 1.0 };

    /// `in_series` drivers in each of `in_parallel` paths, each driver with its coils in series.
    #[must_use]
    pub fn of_drivers(in_series: usize, in_parallel: usize) -> Self {
        Self {
            drivers: in_series.saturating_mul(in_parallel),
            series_factor: in_series as f64,
            parallel: in_parallel as f64,
        }
    }

    /// Every coil of `drivers` cones with `coils_each` coils connected, `coils_in_series` of them in each path.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] unless the coils divide evenly into such paths.
    pub fn of_coils(drivers: usize, coils_each: usize, coils_in_series: usize) -> Result<Self, ModelError> {
        let coils = drivers.saturating_mul(coils_each);
        if coils == 0 || coils_in_series == 0 || !coils.is_multiple_of(coils_in_series) {
            return Err(ModelError::Impossible {
                what: "The coils don't divide evenly into equal series paths",
            });
        }
        Ok(Self {
            drivers,
            series_factor: coils_in_series as f64 / coils_each as f64,
            parallel: (coils / coils_in_series) as f64,
        })
    }

    /// Checks the counts, and that the drivers together take the power that goes in.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`], or [`ModelError::Impossible`] if series_factor·parallel is not the number of drivers.
    pub fn check(&self) -> Result<(), ModelError> {
        let drivers = within("number of drivers", self.drivers as f64, 1.0, 64.0)?;
        within("series factor of the wiring", self.series_factor, 1e-3, 1e3)?;
        within("parallel paths of the wiring", self.parallel, 1e-3, 1e3)?;
        if (self.series_factor * self.parallel / drivers - 1.0).abs() > 1e-9 {
            return Err(ModelError::Impossible { what: "The wiring doesn't connect all coils alike" });
        }
        Ok(())
    }
}

/// Identical drivers that share their air and one pair of terminals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// One driver, all its coils in series.
    pub driver: Driver,
    /// How many there are and how their coils are connected.
    pub wiring: Wiring,
}

impl Load {
    /// One driver with its coils in series.
    #[must_use]
    pub fn single(driver: Driver) -> Self {
        Self { driver, wiring: Wiring::SINGLE }
    }

    /// The drivers two by two, one behind the other, each pair moving as one piece.
    ///
    /// A pair has twice the moving mass and loss, half the compliance and the area of one; its coils sit on two
    /// formers, so that their impedances add. The terminals stay what they were.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] for an odd number of drivers.
    pub fn in_pairs(&self) -> Result<Self, ModelError> {
        if !self.wiring.drivers.is_multiple_of(2) {
            return Err(ModelError::Impossible { what: "Push-pull pairs need an even number of drivers" });
        }
        let one = &self.driver;
        Ok(Self {
            driver: Driver {
                re: one.re * 2.0,
                coil: one.coil.scaled(2.0),
                bl: one.bl * 2.0,
                mms: one.mms * 2.0,
                cms: one.cms * 0.5,
                rms_ns_m: one.rms_ns_m * 2.0,
                sd: one.sd,
            },
            wiring: Wiring {
                drivers: self.wiring.drivers / 2,
                series_factor: self.wiring.series_factor / 2.0,
                parallel: self.wiring.parallel,
            },
        })
    }

    /// Dc resistance at the common terminals.
    #[must_use]
    pub fn dc_resistance(&self) -> Resistance {
        self.driver.re * (self.wiring.series_factor / self.wiring.parallel)
    }

    /// Checks the driver and the wiring.
    ///
    /// # Errors
    /// Those of [`Driver::check`] and [`Wiring::check`].
    pub fn check(&self) -> Result<(), ModelError> {
        self.driver.check()?;
        self.wiring.check()
    }
}
