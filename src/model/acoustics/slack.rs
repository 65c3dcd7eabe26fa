//! Slack: what the inaccuracy of a build, of a data sheet, of fill and seals does to the curves and the figures.
//!
//! A few hundred variants, each uncertain quantity anywhere within its tolerance with equal chance, are solved as the
//! same network as the design itself. Each quantity's range is cut into as many equal parts as there are variants and
//! every part is used once, in a fixed shuffled order: the same design gives the same bands, and few variants do.
mod chance;

use super::figures::figures;
use super::{
    Air, Drive, Enclosure, Load, Losses, Network, Response, SignalPath, closed_box_frequency, closed_box_q,
    respond, respond_either_way,
};
use crate::model::acoustics::check::within;
use crate::model::acoustics::{Driver, Opening, SealedChamber, VentedChamber};
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::units::{Frequency, Length, Volume};
use chance::Chance;

/// How far each quantity may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// Every cut, more or less.
    pub cut: Length,
    /// Resonance fs, relative.
    pub fs: f64,
    /// Qts, relative; Qes and Qms share it.
    pub qts: f64,
    /// Vas, relative.
    pub vas: f64,
    /// Air that fill and fittings leave, relative to the net volume.
    pub air: f64,
    /// Factor by which leakage and absorption may be stronger or weaker, 1 or more.
    pub losses: f64,
}

/// A box as built, and what drives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// The drivers.
    pub load: Load,
    /// Their wiring where the coils don't share equally.
    pub unequal: Option<Tree>,
    /// The box.
    pub enclosure: Enclosure,
    /// Its inside width, height and depth; the chambers of two lie side by side along the first.
    pub inside: [Length; 3],
    /// The air.
    pub air: Air,
    /// The drive.
    pub drive: Drive,
    /// The filters before it.
    pub path: SignalPath,
    /// Largest factor of the filters that the amplifier follows at the drive.
    pub most: Option<f64>,
}

impl Built {
    /// The network of the box with its drivers as wired.
    ///
    /// # Errors
    /// Those of [`Enclosure::network`].
    pub fn network(&self) -> Result<Network, ModelError> {
        let network = self.enclosure.network(self.load, self.air)?;
        Ok(Network { unequal: self.unequal.clone(), ..network })
    }
}

/// Two curves between which nine variants in ten lie, one value for each frequency.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Band {
    /// One variant in twenty is below.
    pub low: Vec<f64>,
    /// One variant in twenty is above.
    pub high: Vec<f64>,
}

/// What of a figure nine variants in ten come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// One variant in twenty is below.
    pub low: f64,
    /// One variant in twenty is above.
    pub high: f64,
    /// Standard deviation of all variants.
    pub deviation: f64,
}

/// A figure with a spread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spreading {
    /// Net volume of all chambers, m³.
    Net,
    /// Resonance of a closed box, tuning of another, Hz.
    Resonance,
    /// Qtc of a closed box.
    Qtc,
    /// Half-power point, Hz.
    F3,
    /// Ten decibels down, Hz.
    F10,
    /// Largest peak travel of a cone, m.
    Travel,
    /// Largest peak speed of the air in the first port, m/s.
    Port,
    /// Smallest impedance, Ω.
    Impedance,
}

/// Every figure, in the order of a variant's numbers.
pub const FIGURES: [Spreading; 8] = [
    Spreading::Net,
    Spreading::Resonance,
    Spreading::Qtc,
    Spreading::F3,
    Spreading::F10,
    Spreading::Travel,
    Spreading::Port,
    Spreading::Impedance,
];

/// Bands and spreads.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Slack {
    /// Level, dB.
    pub level: Band,
    /// Peak travel of a cone, m.
    pub travel: Band,
    /// Peak speed of the air in the first port, m/s; empty without one.
    pub port: Band,
    /// Magnitude of the impedance, Ω.
    pub impedance: Band,
    /// Group delay, s.
    pub delay: Band,
    /// Spreads of the figures that every variant has.
    pub figures: Vec<(Spreading, Spread)>,
}

/// Variants being worked out, some at a time.
pub struct SlackJob {
    built: Built,
    tolerances: Tolerances,
    frequencies: Vec<f64>,
    chances: Vec<Vec<f64>>,
    responses: Vec<Response>,
    figures: Vec<[f64; FIGURES.len()]>,
    next: usize,
}

/// Uncertain quantities of a variant: four cuts and two of the port, three of the driver, air, leakage, absorption.
const QUANTITIES: usize = 12;

impl SlackJob {
    /// Sets out `variants` variants of a box over these frequencies.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a tolerance, a size, or a number of variants outside 20 to 5000; otherwise those of
    /// [`Enclosure::network`] and [`respond`] for the box itself.
    pub fn start(
        built: Built,
        tolerances: Tolerances,
        frequencies_hz: &[f64],
        variants: usize,
    ) -> Result<Self, ModelError> {
        within("cutting error in m", tolerances.cut.metres(), 0.0, 0.02)?;
        for share in [tolerances.fs, tolerances.qts, tolerances.vas, tolerances.air] {
            within("tolerance", share, 0.0, 0.6)?;
        }
        within("factor of the losses", tolerances.losses, 1.0, 10.0)?;
        for size in built.inside {
            within("inside of the box in m", size.metres(), 0.01, 10.0)?;
        }
        within("number of variants", variants as f64, 20.0, 5000.0)?;
        let network = built.network()?;
        respond(&network, built.drive, frequencies_hz)?;
        let mut chance = Chance::new();
        Ok(Self {
            built,
            tolerances,
            frequencies: frequencies_hz.to_vec(),
            chances: (0..QUANTITIES).map(|_| chance.spread(variants)).collect(),
            responses: Vec::with_capacity(variants),
            figures: Vec::with_capacity(variants),
            next: 0,
        })
    }

    /// Works out up to `count` more variants; whether all are done.
    pub fn step(&mut self, count: usize) -> bool {
        for _ in 0..count {
            if self.is_done() {
                break;
            }
            let variant = self.variant(self.next);
            self.next += 1;
            // A variant beyond the model's range is left out; the box itself is within it.
            if let Ok((response, figures)) = variant.and_then(|variant| solved(&variant, &self.frequencies)) {
                self.responses.push(response);
                self.figures.push(figures);
            }
        }
        self.is_done()
    }

    /// Whether all variants are worked out.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.next >= self.chances.first().map_or(0, Vec::len)
    }

    /// How much is done, 0 to 1.
    #[must_use]
    pub fn progress(&self) -> f64 {
        self.next as f64 / self.chances.first().map_or(1, |chance| chance.len().max(1)) as f64
    }

    /// Bands and spreads of the variants so far.
    #[must_use]
    pub fn outcome(&self) -> Slack {
        let band = |curve: &dyn Fn(&Response, usize) -> Option<f64>| self.band(curve);
        let mut slack = Slack {
            level: band(&|r, i| r.spl_db.get(i).copied()),
            travel: band(&|r, i| r.excursion_peak_m.get(i).copied()),
            port: band(&|r, i| r.ducts.first()?.velocity_peak_m_s.get(i).copied()),
            impedance: band(&|r, i| r.impedance_ohm.get(i).map(|z| z.norm())),
            delay: band(&|r, i| r.group_delay_s.get(i).copied()),
            figures: Vec::new(),
        };
        for (index, figure) in FIGURES.into_iter().enumerate() {
            let mut values: Vec<f64> = self
                .figures
                .iter()
                .filter_map(|all| all.get(index).copied())
                .filter(|v| v.is_finite())
                .collect();
            // A figure that only some variants have would be a spread of those, not of the box.
            if values.len() == self.figures.len()
                && let Some(spread) = spread(&mut values)
            {
                slack.figures.push((figure, spread));
            }
        }
        slack
    }

    fn band(&self, curve: &dyn Fn(&Response, usize) -> Option<f64>) -> Band {
        let mut band = Band::default();
        let mut values = Vec::with_capacity(self.responses.len());
        for index in 0..self.frequencies.len() {
            values.clear();
            values.extend(self.responses.iter().filter_map(|response| curve(response, index)));
            let Some((low, high)) = middle(&mut values) else { return Band::default() };
            band.low.push(low);
            band.high.push(high);
        }
        band
    }

    /// The box of one variant.
    fn variant(&self, index: usize) -> Result<Built, ModelError> {
        // Each from −1 to 1.
        let off =
            |quantity: usize| self.chances.get(quantity).and_then(|c| c.get(index)).copied().unwrap_or(0.0);
        let tolerances = &self.tolerances;
        let cut = tolerances.cut.metres();
        let air = 1.0 + tolerances.air * off(9);
        let [width, height, depth] = self.built.inside.map(Length::metres);
        let section = height * depth;
        let common = (1.0 + cut * off(0) / height) * (1.0 + cut * off(1) / depth);
        let total: f64 = chambers(&self.built.enclosure).iter().map(|v| v.cubic_metres()).sum();
        // Two chambers share the width by their air.
        let grown = |volume: Volume, quantity: usize| {
            let across = width * volume.cubic_metres() / total;
            let gain = section * across * (common * (1.0 + cut * off(quantity) / across) - 1.0);
            Volume::from_cubic_metres(volume.cubic_metres() * air + gain)
        };
        let scaled = |losses: Losses| {
            let by = |q: Option<f64>, quantity: usize| q.map(|q| q * tolerances.losses.powf(off(quantity)));
            Losses { ql: by(losses.ql, 10), qa: by(losses.qa, 11) }
        };
        let sealed = |chamber: SealedChamber, quantity: usize| SealedChamber {
            volume: grown(chamber.volume, quantity),
            losses: scaled(chamber.losses),
        };
        let vented = |chamber: VentedChamber, quantity: usize| {
            let mut port = chamber.port;
            port.length = Length::from_metres((port.length.metres() + cut * off(4)).max(0.0));
            if let Opening::Slot { width, height } = port.opening {
                let height = Length::from_metres((height.metres() + cut * off(5)).max(1e-3));
                port.opening = Opening::Slot { width, height };
            }
            VentedChamber { volume: grown(chamber.volume, quantity), losses: scaled(chamber.losses), port }
        };
        let enclosure = match self.built.enclosure {
            Enclosure::InfiniteBaffle => Enclosure::InfiniteBaffle,
            Enclosure::Closed { rear } => Enclosure::Closed { rear: sealed(rear, 2) },
            Enclosure::Vented { rear } => Enclosure::Vented { rear: vented(rear, 2) },
            Enclosure::PassiveRadiator { rear, radiator } => {
                Enclosure::PassiveRadiator { rear: sealed(rear, 2), radiator }
            }
            Enclosure::Bandpass4 { rear, front } => {
                Enclosure::Bandpass4 { rear: sealed(rear, 2), front: vented(front, 3) }
            }
            Enclosure::Bandpass6Parallel { rear, front } => {
                Enclosure::Bandpass6Parallel { rear: vented(rear, 2), front: vented(front, 3) }
            }
            Enclosure::Bandpass6Series { rear, front } => {
                Enclosure::Bandpass6Series { rear: vented(rear, 2), front: vented(front, 3) }
            }
            Enclosure::PushPull { rear } => Enclosure::PushPull { rear: sealed(rear, 2) },
        };
        let driver = self.driver([6, 7, 8].map(off))?;
        Ok(Built { load: Load { driver, ..self.built.load }, enclosure, ..self.built.clone() })
    }

    /// The driver with fs, Qts and Vas off.
    fn driver(&self, [fs, qts, vas]: [f64; 3]) -> Result<Driver, ModelError> {
        let (driver, air) = (&self.built.load.driver, &self.built.air);
        let mut set = driver.small_signal(air)?;
        set.fs = Frequency::from_hertz(set.fs.hertz() * (1.0 + self.tolerances.fs * fs));
        set.vas = set.vas * (1.0 + self.tolerances.vas * vas);
        set.qes *= 1.0 + self.tolerances.qts * qts;
        // A driver without mechanical loss keeps none.
        set.qms = (set.qms * (1.0 + self.tolerances.qts * qts)).min(9e3);
        Driver::from_small_signal(&set, driver.coil, air)
    }
}

/// Net volumes of the chambers.
fn chambers(enclosure: &Enclosure) -> Vec<Volume> {
    match enclosure {
        Enclosure::InfiniteBaffle => Vec::new(),
        Enclosure::Closed { rear }
        | Enclosure::PassiveRadiator { rear, .. }
        | Enclosure::PushPull { rear } => vec![rear.volume],
        Enclosure::Vented { rear } => vec![rear.volume],
        Enclosure::Bandpass4 { rear, front } => vec![rear.volume, front.volume],
        Enclosure::Bandpass6Parallel { rear, front } | Enclosure::Bandpass6Series { rear, front } => {
            vec![rear.volume, front.volume]
        }
    }
}

/// Curves and figures of a variant; a figure it does not have is NaN, which never leaves this module.
fn solved(built: &Built, frequencies: &[f64]) -> Result<(Response, [f64; FIGURES.len()]), ModelError> {
    let network = built.network()?;
    let response = respond_either_way(&network, built.drive, frequencies)?;
    let response =
        if built.path.stages.is_empty() { response } else { built.path.applied(&response, built.most)? };
    let found = figures(&network, built.drive, &response)?;
    let none = f64::NAN;
    let (load, air) = (&built.load, &built.air);
    let net: f64 = chambers(&built.enclosure).iter().map(|v| v.cubic_metres()).sum();
    let (resonance, qtc) = match &built.enclosure {
        Enclosure::Closed { rear } => {
            (closed_box_frequency(load, rear.volume, air)?.hertz(), closed_box_q(load, rear.volume, air)?)
        }
        Enclosure::PushPull { rear } => {
            let pairs = load.in_pairs()?;
            (closed_box_frequency(&pairs, rear.volume, air)?.hertz(), closed_box_q(&pairs, rear.volume, air)?)
        }
        Enclosure::Vented { rear } => (rear.port.tuning(rear.volume, air)?.hertz(), none),
        Enclosure::PassiveRadiator { rear, radiator } => (radiator.tuning(rear.volume, air)?.hertz(), none),
        Enclosure::Bandpass4 { front, .. }
        | Enclosure::Bandpass6Parallel { front, .. }
        | Enclosure::Bandpass6Series { front, .. } => (front.port.tuning(front.volume, air)?.hertz(), none),
        Enclosure::InfiniteBaffle => (none, none),
    };
    let figures = [
        net,
        resonance,
        qtc,
        found.f3.map_or(none, Frequency::hertz),
        found.f10.map_or(none, Frequency::hertz),
        found.excursion.value.metres(),
        found.duct_velocities_m_s.first().map_or(none, |most| most.value),
        found.impedance_minimum.value.ohms(),
    ];
    Ok((response, figures))
}

/// The values that one in twenty is below and one in twenty above.
fn middle(values: &mut [f64]) -> Option<(f64, f64)> {
    let last = values.len().checked_sub(1)?;
    let at = |share: f64| (share * last as f64).round() as usize;
    let (low, high) = (at(0.05), at(0.95));
    let high = *values.select_nth_unstable_by(high, f64::total_cmp).1;
    let low = *values.select_nth_unstable_by(low, f64::total_cmp).1;
    Some((low, high))
}

fn spread(values: &mut [f64]) -> Option<Spread> {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let square = values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>();
    let (low, high) = middle(values)?;
    Some(Spread { low, high, deviation: (square / (count - 1.0).max(1.0)).sqrt() })
}
