//! What a candidate is worth: five figures read off its curves, and their sum by the weights.

use super::brief::Brief;
use super::{Candidate, Kind};
use crate::model::acoustics::Drive;
use crate::model::acoustics::solve::REFERENCE_PA;
use crate::model::acoustics::sweep::{At, Sides, Sweep};
use crate::model::error::ModelError;
use crate::model::numeric::log_grid;
use crate::units::Length;

/// Frequencies at which a candidate is solved.
pub const POINTS: usize = 32;
/// The lowest of them, Hz.
const LOWEST_HZ: f64 = 10.0;
/// Level to which greatest levels are counted in a score, dB.
const LEVEL_DB: f64 = 100.0;
/// Outside volume to which sizes are counted in a score, m³.
const SIZE_M3: f64 = 0.05;
/// 10·lg 2 and three times that: dB for a volume doubled and for a reach an octave lower.
const DOUBLING_DB: f64 = 3.010_299_956_639_812;
/// Peak to peak of a sine ripple over its rms.
const RIPPLE: f64 = 2.828_427_124_746_19;
/// dB for each period that the group delay lasts; a judgement, no source.
const PERIOD_DB: f64 = 6.0;

/// What limits a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Amplifier voltage.
    Voltage,
    /// Amplifier current or coil heat.
    Current,
    /// Travel of the cones.
    Travel,
    /// Speed of the air in the port.
    Port,
    /// Travel of the passive radiators.
    Radiator,
}

/// Figures of a candidate, and their sum.
///
/// The score is in dB: level above 100 dB; 9.03 dB for every octave the reach lies below the top of the band; 3.01 dB
/// for every halving of the outside volume from 50 l; the unevenness, as peak to peak of a ripple of the same rms, and
/// 6 dB for every period of group delay, taken off. Each is multiplied by its weight.
///
/// # Source
/// The exchange of level, reach and volume: Small, JAES 20 (1972) 798, η0 = kη·f3³·Vb. The rest is a judgement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Merit {
    /// The sum.
    pub score: f64,
    /// Lowest frequency still within 3 dB of the mean level in the octave below the band's top, Hz.
    pub reach_hz: f64,
    /// Level that it plays everywhere in the band within all limits, dB at 1 m in half space.
    pub level_db: f64,
    /// Rms deviation from that mean level, from the reach (fading in over a third of an octave) to the top, dB.
    pub unevenness_db: f64,
    /// Largest group delay in periods, in the band.
    pub periods: f64,
    /// What limits it where it plays that level and no more.
    pub bound: Bound,
    /// Where that is, Hz.
    pub bound_hz: f64,
}

/// A brief made ready: drivers, amplifier and limits at every frequency.
pub struct Bench {
    sweep: Sweep,
    octaves: Vec<f64>,
    /// Index of the first frequency of the band, and of the octave below its top.
    band: usize,
    top_octave: usize,
    /// Squares of the limits for 1 V at each driver.
    volts2: f64,
    heat2: f64,
    line2: f64,
    travel2: f64,
    speed2: f64,
    radiator2: f64,
}

impl Bench {
    /// Prepares a brief.
    ///
    /// # Errors
    /// Those of [`Brief::check`].
    pub fn new(brief: &Brief) -> Result<Self, ModelError> {
        brief.check()?;
        let frequencies = log_grid(LOWEST_HZ, brief.band.top.hertz(), POINTS);
        let drive = Drive {
            voltage: brief.limits.voltage,
            source_resistance: brief.source_resistance,
            distance: Length::from_metres(1.0),
        };
        let tree = brief.unequal.as_ref();
        let sweep = Sweep::shared(&brief.load, tree, &brief.air, drive, &frequencies)?;
        // The amplifier's current is shared by the parallel paths; in an unequal wiring it is that of the line.
        let paths = if tree.is_some() { 1.0 } else { brief.load.wiring.parallel };
        let square = |x: f64| x * x;
        // i²·Re is the coil's heat, in a coil with most of it as in one of all in series.
        let heat = brief.limits.coil_power.map(|p| p.watts() / brief.load.driver.re.ohms());
        let share = brief.limits.current.map(|i| square(i.amperes() / paths));
        let from = |hertz: f64| frequencies.partition_point(|f| *f < hertz * (1.0 - 1e-9));
        Ok(Self {
            octaves: frequencies.iter().map(|f| f.log2()).collect(),
            band: from(brief.band.low.hertz()),
            top_octave: from(0.5 * brief.band.top.hertz()),
            volts2: square(sweep.driver_volts(brief.limits.voltage.volts())),
            heat2: heat.unwrap_or(f64::MAX),
            line2: share.unwrap_or(f64::MAX),
            travel2: brief.limits.travel.map_or(f64::MAX, |x| 0.5 * square(x.metres())),
            speed2: 0.5 * square(brief.limits.port_speed_m_s),
            radiator2: brief
                .radiator
                .and_then(|unit| unit.travel)
                .map_or(f64::MAX, |x| 0.5 * square(x.metres())),
            sweep,
        })
    }

    /// The figures of a candidate, or `None` if its network is out of range.
    #[must_use]
    pub fn merit(&self, brief: &Brief, candidate: &Candidate) -> Option<Merit> {
        let network = candidate.enclosure.network(brief.load, brief.air).ok()?;
        let sides = Sides::of(&network)?;
        self.figures(brief, &sides, candidate.placed.outside.cubic_metres())
    }

    fn figures(&self, brief: &Brief, sides: &Sides, outside_m3: f64) -> Option<Merit> {
        let factor = (self.sweep.pressure_factor() / REFERENCE_PA).powi(2) * self.volts2;
        let areas = sides.areas().map(|area| area.map(|a| 1.0 / (a * a)));
        let mut levels = [0.0; POINTS];
        // The least of the greatest levels, what limits it, and where.
        let mut weakest = (f64::INFINITY, Bound::Voltage, 0.0);
        let mut periods = 0.0_f64;
        for (index, (at, slot)) in self.sweep.each(sides).zip(&mut levels).enumerate() {
            let level = 10.0 * (at.outside.norm_sqr() * at.hertz * at.hertz * factor).max(1e-30).log10();
            *slot = level;
            if index >= self.band {
                let (allowed, bound) = self.allowed(&at, &areas);
                let most = level + if allowed < 1.0 { 10.0 * allowed.max(1e-30).log10() } else { 0.0 };
                if most < weakest.0 {
                    weakest = (most, bound, at.hertz);
                }
                periods = periods.max(at.delay * at.hertz);
            }
        }
        let (level_db, bound, bound_hz) = weakest;
        let (reach_octave, unevenness_db) = self.shape(&levels);
        let weights = &brief.weights;
        let top = self.octaves.last().copied()?;
        let score = weights.level * (level_db - LEVEL_DB)
            + weights.reach * 3.0 * DOUBLING_DB * (top - reach_octave)
            - weights.size * DOUBLING_DB * (outside_m3 / SIZE_M3).log2()
            - weights.evenness * RIPPLE * unevenness_db
            - weights.decay * PERIOD_DB * periods;
        score.is_finite().then_some(Merit {
            score,
            reach_hz: reach_octave.exp2(),
            level_db,
            unevenness_db,
            periods,
            bound,
            bound_hz,
        })
    }

    /// The square of the share of the amplifier's voltage that no limit forbids, and what limits it.
    fn allowed(&self, at: &At, areas: &[Option<f64>; 4]) -> (f64, Bound) {
        let mut least = (1.0, Bound::Voltage);
        let mut look = |limit2: f64, value2: f64, bound| {
            let share = limit2 / (value2 * self.volts2);
            if share < least.0 {
                least = (share, bound);
            }
        };
        let omega2 = at.omega * at.omega;
        look(self.heat2, at.current.norm_sqr(), Bound::Current);
        look(self.line2, at.line.norm_sqr(), Bound::Current);
        look(self.travel2 * omega2, at.velocity.norm_sqr(), Bound::Travel);
        for (index, (flow, area)) in at.openings.iter().zip(areas).enumerate() {
            let Some(area) = area else { continue };
            let speed2 = flow.norm_sqr() * area;
            if index < 2 {
                look(self.speed2, speed2, Bound::Port);
            } else {
                look(self.radiator2 * omega2, speed2, Bound::Radiator);
            }
        }
        least
    }

    /// Reach in octaves over 1 Hz, and the rms deviation above it.
    fn shape(&self, levels: &[f64; POINTS]) -> (f64, f64) {
        let points = || self.octaves.iter().zip(levels);
        let top = points().skip(self.top_octave);
        let mean = top.clone().map(|(_, level)| level).sum::<f64>() / top.clone().count().max(1) as f64;
        let loudest = top.enumerate().max_by(|a, b| a.1.1.total_cmp(b.1.1));
        let start = self.top_octave + loudest.map_or(0, |(index, _)| index);
        let edge = mean - DOUBLING_DB;
        let mut reach = self.octaves.first().copied().unwrap_or(0.0);
        let mut above: Option<(f64, f64)> = None;
        for (octave, level) in points().take(start + 1).rev() {
            if *level < edge {
                // Where even the loudest is not above the edge there is no crossing below it.
                let (above_octave, above_level) = above.unwrap_or((*octave, *level));
                let share =
                    if above_level > *level { (above_level - edge) / (above_level - level) } else { 0.0 };
                reach = above_octave + (octave - above_octave) * share;
                break;
            }
            above = Some((*octave, *level));
        }
        let (mut sum, mut total) = (0.0, 0.0);
        for (octave, level) in points() {
            let weight = ((octave - reach) * 3.0).clamp(0.0, 1.0);
            sum += weight * (level - mean) * (level - mean);
            total += weight;
        }
        (reach, if total > 0.0 { (sum / total).sqrt() } else { 0.0 })
    }
}

impl Brief {
    /// Whether the kind can be built with what there is.
    pub(super) fn offers(&self, kind: Kind) -> bool {
        kind.openings(self) > 0
    }
}
