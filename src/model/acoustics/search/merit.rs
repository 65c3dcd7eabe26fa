//! What a candidate is worth: five figures read off its curves, and their sum by the weights.

use super::brief::Brief;
use super::{Candidate, Kind};
use crate::model::acoustics::Drive;
use crate::model::acoustics::solve::REFERENCE_PA;
use crate::model::acoustics::sweep::{At, Sides, Sweep};
use crate::model::error::ModelError;
use crate::model::numeric::log_grid;
use crate::units::Length;
use std::f64::consts::LN_10;

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
    volts2: f64,
    /// One over the squares of the limits, at the amplifier's voltage; zero where there is none.
    heat: f64,
    line: f64,
    travel: f64,
    speed: f64,
    radiator: f64,
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
        let volts2 = square(sweep.driver_volts(brief.limits.voltage.volts()));
        let over = |limit: Option<f64>| limit.map_or(0.0, |limit| volts2 / limit);
        // i²·Re is the coil's heat, in a coil with most of it as in one of all in series.
        let heat = brief.limits.coil_power.map(|p| p.watts() / brief.load.driver.re.ohms());
        let share = brief.limits.current.map(|i| square(i.amperes() / paths));
        let travel = |x: Length| 0.5 * square(x.metres());
        let from = |hertz: f64| frequencies.partition_point(|f| *f < hertz * (1.0 - 1e-9));
        Ok(Self {
            octaves: frequencies.iter().map(|f| f.log2()).collect(),
            band: from(brief.band.low.hertz()),
            top_octave: from(0.5 * brief.band.top.hertz()),
            volts2,
            heat: over(heat),
            line: over(share),
            travel: over(brief.limits.travel.map(travel)),
            speed: over(Some(0.5 * square(brief.limits.port_speed_m_s))),
            radiator: over(brief.radiator.and_then(|unit| unit.travel).map(travel)),
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
        // The least of the greatest levels as a square of pressure, what limits it, and where.
        let mut weakest = (f64::INFINITY, Bound::Voltage, 0.0);
        let mut periods = 0.0_f64;
        for (index, (at, slot)) in self.sweep.each(sides).zip(&mut levels).enumerate() {
            let square = at.outside.norm_sqr() * at.hertz * at.hertz * factor;
            *slot = decibels(square);
            if index >= self.band {
                let (strain, bound) = self.strain(&at, &areas);
                let most = square / strain;
                if most < weakest.0 {
                    weakest = (most, bound, at.hertz);
                }
                periods = periods.max(at.delay * at.hertz);
            }
        }
        let (most, bound, bound_hz) = weakest;
        let level_db = decibels(most);
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

    /// How far the amplifier's voltage goes beyond the tightest limit, as a square of at least 1, and which that is.
    #[inline]
    fn strain(&self, at: &At, areas: &[Option<f64>; 4]) -> (f64, Bound) {
        let mut most = (1.0, Bound::Voltage);
        let mut look = |strain: f64, bound| {
            if strain > most.0 {
                most = (strain, bound);
            }
        };
        let period2 = at.period * at.period;
        look(self.heat * at.current.norm_sqr(), Bound::Current);
        look(self.line * at.line.norm_sqr(), Bound::Current);
        look(self.travel * period2 * at.velocity.norm_sqr(), Bound::Travel);
        for (index, (flow, area)) in at.openings.iter().zip(areas).enumerate() {
            let Some(area) = area else { continue };
            let speed2 = flow.norm_sqr() * area;
            if index < 2 {
                look(self.speed * speed2, Bound::Port);
            } else {
                look(self.radiator * period2 * speed2, Bound::Radiator);
            }
        }
        most
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

/// 10·lg of a square, not below −300 dB.
#[inline]
fn decibels(square: f64) -> f64 {
    const PER_E: f64 = 10.0 / LN_10;
    PER_E * square.max(1e-30).ln()
}

impl Brief {
    /// Whether the kind can be built with what there is.
    pub(super) fn offers(&self, kind: Kind) -> bool {
        kind.openings(self) > 0
    }
}
