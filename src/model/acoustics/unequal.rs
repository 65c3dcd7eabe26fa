//! Equal drivers in the same air whose coils are wired so that they don't share equally.
//!
//! The air answers only to the sum of the cones' movement, so that the sum moves as in any other wiring with the same
//! sum of the coils' currents, and what a cone moves beyond the mean meets no pressure: only its own mass, suspension
//! and loss. Both follow from the network solved once with all drivers alike; the currents follow from the wiring.

use super::network::Network;
use super::response::Response;
use super::solve::{Drive, REFERENCE_PA, respond};
use super::{Load, Wiring};
use crate::model::electrical::wiring::{MAX_COILS_PER_DRIVER, MAX_DRIVERS, Tree};
use crate::model::error::ModelError;
use crate::model::numeric::DenseSystem;
use crate::units::Voltage;
use num_complex::Complex64;
use std::f64::consts::{SQRT_2, TAU};

mod quick;

pub(super) use quick::Alike;

/// Most coils, and with that most currents that may be chosen freely.
const MOST: usize = MAX_DRIVERS as usize * MAX_COILS_PER_DRIVER as usize;
/// Half the distance of the two frequencies that give the slope of a phase, relative.
const STEP: f64 = 1e-4;

/// What one driver does over the frequencies of a response.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DriverPart {
    /// Peak excursion of its cone, m.
    pub excursion_peak_m: Vec<f64>,
    /// Power that enters its coils, W; below zero where the others drive it.
    pub power_w: Vec<f64>,
}

/// The equal wiring that stands in for an unequal one of `drivers` where only sums count: as many drivers, and the
/// same dc resistance at the terminals.
///
/// # Errors
/// [`ModelError::Impossible`] for a wiring without coils.
#[inline(never)]
pub fn stand_in(tree: &Tree, drivers: usize, coils_each: usize) -> Result<Wiring, ModelError> {
    // In units of one driver with its coils in series.
    let whole = tree.of_equal_coils() / coils_each as f64;
    let parallel = (drivers as f64 / whole).sqrt();
    let wiring = Wiring { drivers, series_factor: drivers as f64 / parallel, parallel };
    wiring.check().map(|()| wiring)
}

/// The level that the unequal shares cost against equal ones at the same power, dB, above zero.
///
/// The level follows the sum of the currents and the power the sum of their squares; `shares` of power, all together 1.
#[must_use]
pub fn cost_db(shares: &[f64]) -> f64 {
    let sum: f64 = shares.iter().map(|share| share.max(0.0).sqrt()).sum();
    -20.0 * (sum / (shares.len().max(1) as f64).sqrt()).max(1e-12).log10()
}

/// The wiring as equations: every coil's current is a sum of freely chosen ones, the first of which is the line's.
struct Loops {
    /// For each coil the driver it belongs to and the factor of each free current.
    coils: Vec<(usize, Vec<f64>)>,
    count: usize,
}

impl Loops {
    fn of(tree: &Tree) -> Self {
        let mut loops = Self { coils: Vec::new(), count: 1 };
        loops.add(tree, vec![1.0]);
        for (_, row) in &mut loops.coils {
            row.resize(loops.count, 0.0);
        }
        loops
    }

    fn add(&mut self, tree: &Tree, current: Vec<f64>) {
        match tree {
            Tree::Coil(id) => self.coils.push((usize::from(id.driver), current)),
            Tree::Series(members) => members.iter().for_each(|member| self.add(member, current.clone())),
            Tree::Parallel(members) => {
                // The first member takes what the others leave.
                let mut rest = current;
                for member in members.iter().skip(1) {
                    let free = self.count;
                    self.count += 1;
                    rest.resize(self.count, 0.0);
                    rest[free] -= 1.0;
                    let mut own = vec![0.0; self.count];
                    own[free] = 1.0;
                    self.add(member, own);
                }
                if let Some(first) = members.first() {
                    self.add(first, rest);
                }
            }
        }
    }

    /// The sum of the currents of every coil whose driver `belongs`.
    fn sum(&self, belongs: impl Fn(usize) -> bool) -> Vec<f64> {
        let mut sum = vec![0.0; self.count];
        for (_, row) in self.coils.iter().filter(|(driver, _)| belongs(*driver)) {
            sum.iter_mut().zip(row).for_each(|(sum, factor)| *sum += factor);
        }
        sum
    }
}

/// A symmetric matrix of the free currents, row by row.
fn squares<'a>(rows: impl Iterator<Item = &'a Vec<f64>>, count: usize) -> Vec<f64> {
    let mut matrix = vec![0.0; count * count];
    for row in rows {
        for (i, a) in row.iter().enumerate() {
            for (j, b) in row.iter().enumerate() {
                matrix[i * count + j] += a * b;
            }
        }
    }
    matrix
}

/// The wiring prepared for any frequency.
struct Circuit {
    loops: Loops,
    drivers: Vec<Vec<f64>>,
    cones: Vec<Vec<f64>>,
    all: Vec<f64>,
    by_coil: Vec<f64>,
    by_driver: Vec<f64>,
    by_cone: Vec<f64>,
    by_all: Vec<f64>,
}

/// Impedances of one coil at one frequency, Ω.
struct CoilParts {
    /// Its dc resistance.
    resistance: f64,
    /// Of its own and of every other coil on the same former.
    former: Complex64,
    /// Motional, of the current beyond the mean of the cones.
    apart: Complex64,
    /// Motional, of the mean.
    together: Complex64,
}

impl Circuit {
    fn of(tree: &Tree, drivers: usize, cones: usize) -> Self {
        let loops = Loops::of(tree);
        let each = drivers / cones.max(1);
        let by = |count: usize, size: usize| -> Vec<Vec<f64>> {
            (0..count).map(|one| loops.sum(|driver| driver / size.max(1) == one)).collect()
        };
        let (of_drivers, of_cones, all) = (by(drivers, 1), by(cones, each), loops.sum(|_| true));
        let n = loops.count;
        Self {
            by_coil: squares(loops.coils.iter().map(|(_, row)| row), n),
            by_driver: squares(of_drivers.iter(), n),
            by_cone: squares(of_cones.iter(), n),
            by_all: squares(std::iter::once(&all), n),
            drivers: of_drivers,
            cones: of_cones,
            all,
            loops,
        }
    }

    /// The free currents at 1 V of a source with the resistance `source`.
    fn currents(&self, parts: &CoilParts, source: f64) -> Result<Vec<Complex64>, ModelError> {
        match self.loops.count {
            0..=4 => self.solved::<4>(parts, source),
            5..=8 => self.solved::<8>(parts, source),
            _ => self.solved::<MOST>(parts, source),
        }
    }

    fn solved<const N: usize>(&self, parts: &CoilParts, source: f64) -> Result<Vec<Complex64>, ModelError> {
        let n = self.loops.count;
        let factorised = self.system::<N>(parts, source).factorised().ok_or(ModelError::Impossible {
            what: "The wiring has no single response at one of the frequencies",
        })?;
        Ok(factorised.solve(&unit::<N>()).into_iter().take(n).collect())
    }

    /// The equations of the free currents.
    fn system<const N: usize>(&self, parts: &CoilParts, source: f64) -> DenseSystem<N> {
        let n = self.loops.count;
        let mut system = DenseSystem::<N>::new();
        for i in 0..n {
            (0..n).for_each(|j| system.add(i, j, self.element(parts, i, j)));
        }
        (n..N).for_each(|unused| system.add(unused, unused, Complex64::ONE));
        system.add(0, 0, Complex64::from(source));
        system
    }

    #[inline]
    fn element(&self, parts: &CoilParts, i: usize, j: usize) -> Complex64 {
        let mean = (parts.together - parts.apart) / self.cones.len().max(1) as f64;
        let at = i * self.loops.count + j;
        let of = |matrix: &[f64]| matrix.get(at).copied().unwrap_or(0.0);
        parts.former * of(&self.by_driver)
            + parts.apart * of(&self.by_cone)
            + mean * of(&self.by_all)
            + parts.resistance * of(&self.by_coil)
    }
}

/// 1 V in the first loop.
fn unit<const N: usize>() -> [Complex64; N] {
    let mut right = [Complex64::ZERO; N];
    right.iter_mut().take(1).for_each(|first| *first = Complex64::ONE);
    right
}

fn along(row: &[f64], currents: &[Complex64]) -> Complex64 {
    row.iter().zip(currents).map(|(factor, current)| current * *factor).sum()
}

/// Drivers with an unequal wiring, ready for any frequency.
pub(super) struct Unequal {
    load: Load,
    circuit: Circuit,
    /// Coils on each cone.
    coils: f64,
    /// Formers on each cone: two of a push-pull pair.
    formers: f64,
    source: f64,
}

/// The solution at one frequency for 1 V of the source.
struct Found {
    currents: Vec<Complex64>,
    /// Mean of the sums of the coils' currents on each cone.
    mean: Complex64,
    parts: CoilParts,
    /// The driver's own mechanical impedance, N·s/m.
    cone: Complex64,
    /// The driver with all its coils in series, in the air of all drivers moving alike.
    driver: Complex64,
}

impl Unequal {
    /// Prepares a wiring of the drivers of a load behind a source resistance.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] unless the wiring connects the coils of equal drivers on as many cones.
    pub(super) fn of(load: &Load, tree: &Tree, drive: &Drive) -> Result<Self, ModelError> {
        let cones = load.wiring.drivers;
        let drivers = check(tree, cones)?;
        let circuit = Circuit::of(tree, drivers, cones);
        Ok(Self {
            load: *load,
            coils: (circuit.loops.coils.len() / cones.max(1)) as f64,
            formers: (drivers / cones.max(1)) as f64,
            source: drive.source_resistance.ohms(),
            circuit,
        })
    }

    /// The solution where all drivers in parallel have the impedance `alike`.
    fn at(&self, hertz: f64, alike: Complex64) -> Result<Found, ModelError> {
        let omega = TAU * hertz;
        let driver = &self.load.driver;
        let coil = driver.coil.at(omega).0;
        let reactance = omega * driver.mms.kilograms() - 1.0 / (omega * driver.cms.metres_per_newton());
        let cone = Complex64::new(driver.rms_ns_m, reactance);
        let whole = alike * self.load.wiring.drivers as f64;
        let per_coil = 1.0 / (self.coils * self.coils);
        let parts = CoilParts {
            resistance: driver.re.ohms() / self.coils,
            former: coil * (self.formers * per_coil),
            apart: driver.bl.tesla_metres().powi(2) / cone * per_coil,
            together: (whole - coil - driver.re.ohms()) * per_coil,
        };
        let currents = self.circuit.currents(&parts, self.source)?;
        let mean = along(&self.circuit.all, &currents) / self.circuit.cones.len().max(1) as f64;
        Ok(Found { currents, mean, parts, cone, driver: whole })
    }

    /// The factor from all drivers alike at 1 V each to these at 1 V of the source.
    fn scale(&self, found: &Found) -> Complex64 {
        found.mean * found.driver / self.coils
    }

    /// Velocity of every cone at 1 V of the source; `mean` is the cones' mean.
    fn velocities(&self, found: &Found, mean: Complex64) -> Vec<Complex64> {
        let bl = self.load.driver.bl.tesla_metres() / self.coils;
        let beyond = |row: &Vec<f64>| (along(row, &found.currents) - found.mean) * bl / found.cone;
        self.circuit.cones.iter().map(|row| mean + beyond(row)).collect()
    }
}

/// The number of drivers of a wiring of equal drivers on so many cones.
pub(super) fn check(tree: &Tree, cones: usize) -> Result<usize, ModelError> {
    let mut count = [0usize; MAX_DRIVERS as usize];
    for id in tree.coils() {
        match count.get_mut(usize::from(id.driver)) {
            Some(coils) => *coils += 1,
            None => {
                return Err(ModelError::Impossible {
                    what: "The wiring has more drivers than one line may have",
                });
            }
        }
    }
    let drivers = count.iter().take_while(|coils| **coils > 0).count();
    let alike = count.iter().take(drivers).all(|coils| *coils == count[0]);
    let rest = count.iter().skip(drivers).all(|coils| *coils == 0);
    let fits = drivers > 0 && cones > 0 && drivers.is_multiple_of(cones) && drivers <= 2 * cones;
    if !(alike && rest && fits && count[0] <= usize::from(MAX_COILS_PER_DRIVER)) {
        return Err(ModelError::Impossible { what: "The wiring doesn't connect the coils of equal drivers" });
    }
    Ok(drivers)
}

/// The same network with all drivers alike and in parallel, and 1 V at each.
fn alike(network: &Network, drive: &Drive) -> (Network, Drive) {
    let wiring = Wiring::of_drivers(1, network.load.wiring.drivers);
    let network = Network { load: Load { wiring, ..network.load }, unequal: None, ..network.clone() };
    let source_resistance = crate::units::Resistance::from_ohms(0.0);
    (network, Drive { voltage: Voltage::from_volts(1.0), source_resistance, ..*drive })
}

/// The curves of a network with an unequal wiring; the excursion is that of the cone that goes furthest at each
/// frequency.
///
/// # Errors
/// Those of [`respond`].
#[inline(never)]
pub(super) fn respond_unequally(
    network: &Network,
    tree: &Tree,
    drive: &Drive,
    frequencies_hz: &[f64],
) -> Result<Response, ModelError> {
    let unequal = Unequal::of(&network.load, tree, drive)?;
    let (plain, unit) = alike(network, drive);
    let beside = |step: f64| -> Vec<f64> { frequencies_hz.iter().map(|f| f * (1.0 + step)).collect() };
    let mut out = respond(&plain, unit, frequencies_hz)?;
    let [below, above] = [-STEP, STEP].map(|step| respond(&plain, unit, &beside(step)));
    let (below, above) = (below?, above?);
    let volts = drive.voltage.volts();
    let area = network.load.driver.sd.square_metres() * network.load.wiring.drivers as f64;
    for i in 0..out.frequencies_hz.len() {
        let hertz = out.frequencies_hz[i];
        let found = unequal.at(hertz, out.impedance_ohm[i])?;
        let factor = unequal.scale(&found);
        let side = |response: &Response| {
            unequal
                .at(response.frequencies_hz[i], response.impedance_ohm[i])
                .map(|found| unequal.scale(&found))
        };
        let turned = (side(&above)? / side(&below)?).arg() / (2.0 * STEP * TAU * hertz);
        let mean = out.cone_flow_m3_s[i] * factor / area;
        let furthest =
            unequal.velocities(&found, mean).iter().map(|u| u.norm_sqr()).fold(0.0, f64::max).sqrt();
        out.spl_db[i] += 20.0 * (factor.norm() * volts).max(1e-30).log10();
        out.phase_deg[i] = turned_to(out.phase_deg[i] + factor.arg().to_degrees());
        out.group_delay_s[i] -= turned;
        out.excursion_peak_m[i] = SQRT_2 * furthest * volts / (TAU * hertz);
        // The source's 1 V over the line's current is what it sees, its own resistance in it.
        out.impedance_ohm[i] = found.currents[0].inv() - unequal.source;
        let size = factor.norm() * volts;
        out.outside_flow_m3_s[i] *= factor * volts;
        out.cone_flow_m3_s[i] *= factor * volts;
        for duct in &mut out.ducts {
            duct.velocity_peak_m_s[i] *= size;
            duct.flow_m3_s[i] *= factor * volts;
        }
        for radiator in &mut out.radiators {
            radiator.excursion_peak_m[i] *= size;
            radiator.flow_m3_s[i] *= factor * volts;
        }
        let sum = out.spl_db[i] + out.group_delay_s[i] + out.excursion_peak_m[i];
        super::check::finite("a result of the response", sum + out.impedance_ohm[i].l1_norm())?;
    }
    Ok(out)
}

/// An angle in (−180°, 180°].
fn turned_to(degrees: f64) -> f64 {
    180.0 - (180.0 - degrees).rem_euclid(360.0)
}

/// What each driver of a network with an unequal wiring does, in their order; nothing of an equal wiring.
///
/// # Errors
/// Those of [`respond`].
#[inline(never)]
pub fn driver_parts(
    network: &Network,
    drive: &Drive,
    frequencies_hz: &[f64],
) -> Result<Vec<DriverPart>, ModelError> {
    let Some(tree) = &network.unequal else { return Ok(Vec::new()) };
    let unequal = Unequal::of(&network.load, tree, drive)?;
    let (plain, unit) = alike(network, drive);
    let out = respond(&plain, unit, frequencies_hz)?;
    let area = network.load.driver.sd.square_metres() * network.load.wiring.drivers as f64;
    let bl = network.load.driver.bl.tesla_metres() / unequal.coils;
    let volts = drive.voltage.volts();
    let mut parts = vec![DriverPart::default(); unequal.circuit.drivers.len()];
    let pair = unequal.formers.max(1.0) as usize;
    for ((hertz, impedance), flow) in
        out.frequencies_hz.iter().zip(&out.impedance_ohm).zip(&out.cone_flow_m3_s)
    {
        let found = unequal.at(*hertz, *impedance)?;
        let velocities = unequal.velocities(&found, flow * unequal.scale(&found) / area);
        for (number, (part, row)) in parts.iter_mut().zip(&unequal.circuit.drivers).enumerate() {
            let Some(velocity) = velocities.get(number / pair) else { continue };
            let heat: f64 = unequal
                .circuit
                .loops
                .coils
                .iter()
                .filter(|(driver, _)| *driver == number)
                .map(|(_, row)| along(row, &found.currents).norm_sqr() * found.parts.resistance)
                .sum();
            let current = along(row, &found.currents);
            let rest = (found.parts.former * current + velocity * bl) * current.conj();
            part.excursion_peak_m.push(SQRT_2 * velocity.norm() * volts / (TAU * hertz));
            part.power_w.push((heat + rest.re) * volts * volts);
        }
    }
    Ok(parts)
}

/// Current of the coil with most of it at each frequency, A; empty for a wiring whose coils share equally.
///
/// # Errors
/// Those of [`respond`].
#[inline(never)]
pub fn hardest_coil(
    network: &Network,
    drive: &Drive,
    frequencies_hz: &[f64],
) -> Result<Vec<f64>, ModelError> {
    let Some(tree) = &network.unequal else { return Ok(Vec::new()) };
    let unequal = Unequal::of(&network.load, tree, drive)?;
    let (plain, unit) = alike(network, drive);
    let out = respond(&plain, unit, frequencies_hz)?;
    let volts = drive.voltage.volts();
    let mut all = Vec::with_capacity(out.frequencies_hz.len());
    for (hertz, impedance) in out.frequencies_hz.iter().zip(&out.impedance_ohm) {
        let found = unequal.at(*hertz, *impedance)?;
        let of = |row: &Vec<f64>| along(row, &found.currents).norm();
        let most = unequal.circuit.loops.coils.iter().map(|(_, row)| of(row)).fold(0.0, f64::max);
        all.push(most * volts);
    }
    Ok(all)
}

/// Level in the mass-controlled band: as [`super::figures::reference_level_db`], with each coil's own current.
#[inline(never)]
pub(super) fn reference_level(network: &Network, tree: &Tree, drive: &Drive) -> Result<f64, ModelError> {
    let unequal = Unequal::of(&network.load, tree, drive)?;
    let nothing = Complex64::ZERO;
    let driver = &network.load.driver;
    let resistance = driver.re.ohms() / unequal.coils;
    let parts = CoilParts { resistance, former: nothing, apart: nothing, together: nothing };
    let currents = unequal.circuit.currents(&parts, unequal.source)?;
    let sum = along(&unequal.circuit.all, &currents).norm() * drive.voltage.volts();
    let force = driver.bl.tesla_metres() / unequal.coils * sum;
    let pressure = network.air.density_kg_m3() * driver.sd.square_metres() * force
        / (driver.mms.kilograms() * TAU * drive.distance.metres());
    super::check::within("drive voltage in V", drive.voltage.volts(), 1e-9, 1e4)?;
    super::check::finite("reference level in dB", 20.0 * (pressure / REFERENCE_PA).log10())
}
