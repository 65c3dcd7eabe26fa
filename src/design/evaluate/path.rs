//! Filters, cabin, limits, heat, floor: what stands around the enclosure.
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{CeilingReport, FloorReport, HeatReport, WiringReport};
use crate::design::warnings::PORT_SPEED_LIMIT_M_S;
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::{
    Air, Cabin, Ceiling, Drive, Enclosure, FloorGap, Limiter, Limits, Load, Network, Response, SignalPath,
    Slope, Stage, ceiling, compression_db, cone_sag, corner_of_length, hardest_coil, high_pass_for,
    least_gap, steady_warming_k, travel_left,
};
use crate::model::electrical::amplifier::Amplifier;
use crate::model::electrical::wiring::CoilShare;
use crate::model::error::ModelError;
use crate::units::{Area, Frequency, Length, Power, Voltage};

/// Highest corner of an advised high-pass, Hz; one above would take away what a subwoofer is for.
const HIGHEST_ADVICE_HZ: f64 = 60.0;
/// Share of the lift in dB under a soft top and with a window open; common practice, no source.
const SOFT_TOP: f64 = 0.6;
const WINDOW_OPEN: f64 = 0.4;

/// The filters as entered.
pub(super) fn signal_path(sheet: &Sheet) -> SignalPath {
    let stages = [FieldId::HighPass, FieldId::LowPass, FieldId::BandGain, FieldId::ShelfGain];
    if stages.iter().any(|id| sheet.si(*id).is_some()) { filters(sheet) } else { SignalPath::default() }
}

#[inline(never)] // the first picture does without any
fn filters(sheet: &Sheet) -> SignalPath {
    let hz = |id| Frequency::from_hertz(sheet.si(id).unwrap_or(40.0));
    let mut stages = Vec::new();
    if let Some(corner) = sheet.si(FieldId::HighPass).map(Frequency::from_hertz) {
        stages.push(Stage::HighPass { slope: slope(sheet, FieldId::HighSlope), corner });
    }
    if let Some(corner) = sheet.si(FieldId::LowPass).map(Frequency::from_hertz) {
        stages.push(Stage::LowPass { slope: slope(sheet, FieldId::LowSlope), corner });
    }
    let gain = |id| sheet.si(id).filter(|gain| *gain != 0.0);
    if let Some(gain_db) = gain(FieldId::BandGain) {
        let q = sheet.si(FieldId::BandQ).unwrap_or(1.4);
        stages.push(Stage::Band { centre: hz(FieldId::BandAt), gain_db, q });
    }
    if let Some(gain_db) = gain(FieldId::ShelfGain) {
        stages.push(Stage::LowShelf { corner: hz(FieldId::ShelfAt), gain_db });
    }
    SignalPath { stages }
}

fn slope(sheet: &Sheet, id: FieldId) -> Slope {
    match sheet.choice_key(id) {
        "Butterworth 12" => Slope::Butterworth12,
        "Butterworth 18" => Slope::Butterworth18,
        "Linkwitz-Riley 12" => Slope::LinkwitzRiley12,
        "Linkwitz-Riley 24" => Slope::LinkwitzRiley24,
        _ => Slope::Butterworth24,
    }
}

/// Share of the cabin's lift that its bodywork leaves.
pub(in crate::design) fn body_share(sheet: &Sheet) -> f64 {
    match sheet.choice_key(FieldId::CabinBody) {
        "soft top" => SOFT_TOP,
        "window open" => WINDOW_OPEN,
        _ => 1.0,
    }
}

/// The cabin, if a corner is measured or a length given.
pub(super) fn cabin(sheet: &Sheet) -> Option<Cabin> {
    let corner = [FieldId::CabinCorner, FieldId::CabinLength];
    if corner.iter().any(|id| sheet.si(*id).is_some()) { cabin_of(sheet) } else { None }
}

#[inline(never)] // the first picture does without one
fn cabin_of(sheet: &Sheet) -> Option<Cabin> {
    // The cabin's air, not the box's: a corner that is only as exact as "half a wavelength" needs no more.
    let c = Air::standard().speed_of_sound_m_s();
    let corner = match sheet.si(FieldId::CabinCorner) {
        Some(hz) => Frequency::from_hertz(hz),
        None => corner_of_length(Length::from_metres(sheet.si(FieldId::CabinLength)?), c).ok()?,
    };
    let share = body_share(sheet);
    let cabin = Cabin { corner, leak: sheet.si(FieldId::CabinLeak).map(Frequency::from_hertz), share };
    cabin.check().ok().map(|()| cabin)
}

/// The power that all drivers together stand; of one while the wiring isn't known.
pub(super) fn thermal_power(sheet: &Sheet, wiring: Option<&WiringReport>) -> Option<Power> {
    let drivers = wiring.map_or(1.0, |wiring| wiring.coils.driver_count() as f64);
    sheet.si(FieldId::ThermalPower).map(|watts| Power::from_watts(watts * drivers))
}

/// What the ceiling rests on.
pub(super) struct Loud<'a> {
    pub(super) sheet: &'a Sheet,
    pub(super) load: &'a Load,
    pub(super) network: &'a Network,
    pub(super) driver: &'a Resolved,
    pub(super) wiring: &'a WiringReport,
    pub(super) amplifier: Option<&'a Amplifier>,
    pub(super) drive: &'a Drive,
}

/// The voltage the amplifier gives into the nominal load.
pub(super) fn amplifier_voltage(wiring: &WiringReport) -> Option<Voltage> {
    let chosen = wiring.chosen()?;
    let watts = chosen.power?.expected().watts();
    Some(Voltage::from_volts((watts * chosen.nominal.ohms()).sqrt()))
}

impl Loud<'_> {
    /// The current into its lowest rated load.
    fn amplifier_current(&self) -> Option<f64> {
        let current = |rating: &crate::model::electrical::amplifier::Rating| {
            (rating.power.watts() / rating.load.ohms()).sqrt()
        };
        self.amplifier?.ratings().iter().map(current).max_by(f64::total_cmp)
    }

    /// The ceiling of the unfiltered response, and what the filters leave.
    pub(super) fn ceiling(
        &self,
        response: &Response,
        path: &SignalPath,
    ) -> Result<Option<CeilingReport>, ModelError> {
        let voltage = amplifier_voltage(self.wiring);
        let limits = Limits {
            cone: self.driver.xmax,
            radiator: self.sheet.si(FieldId::RadiatorTravel).map(Length::from_metres),
            port_m_s: Some(PORT_SPEED_LIMIT_M_S),
            coil: thermal_power(self.sheet, Some(self.wiring)),
            voltage,
            current_a: self.amplifier_current(),
        };
        let curve = match &self.network.unequal {
            None => ceiling(self.load, self.drive, response, &limits),
            Some(_) => self.unequal_ceiling(response, limits)?,
        };
        let Some(curve) = curve else { return Ok(None) };
        let mut segments: Vec<(Frequency, Frequency, _)> = Vec::new();
        for (f, limiter) in response.frequencies_hz.iter().zip(&curve.limiter) {
            let f = Frequency::from_hertz(*f);
            match segments.last_mut() {
                Some((_, to, last)) if last == limiter => *to = f,
                _ => segments.push((f, f, *limiter)),
            }
        }
        // The advice is for the amplifier's full voltage; without one for the drive itself.
        let full = voltage.map_or(1.0, |volts| volts.volts() / self.drive.voltage.volts().max(1e-9));
        let highest = Frequency::from_hertz(HIGHEST_ADVICE_HZ);
        let limit = self.driver.xmax.filter(|_| full > 0.0).map(|xmax| xmax * (1.0 / full));
        let high_pass = match limit {
            Some(limit) => high_pass_for(response, limit, Slope::Butterworth24, highest)?,
            None => None,
        };
        let filters = match limit {
            Some(limit) if !path.stages.is_empty() => Some(travel_left(response, path, limit, highest)?),
            _ => None,
        };
        Ok(Some(CeilingReport { curve, segments, high_pass, filters }))
    }

    /// The ceiling where the coils don't share equally: the one with most current sets the limit of heat, frequency by
    /// frequency.
    #[inline(never)] // few wirings do
    fn unequal_ceiling(&self, response: &Response, limits: Limits) -> Result<Option<Ceiling>, ModelError> {
        let Some(coil) = limits.coil else { return Ok(ceiling(self.load, self.drive, response, &limits)) };
        // So much power that it limits nowhere, but counts as known.
        let endless = Limits { coil: Some(Power::from_watts(1e12)), ..limits };
        let Some(mut top) = ceiling(self.load, self.drive, response, &endless) else { return Ok(None) };
        let currents = hardest_coil(self.network, self.drive, &response.frequencies_hz)?;
        // Of the drivers' power each coil stands its part: i²·Re is one driver's.
        let each = coil.watts() / self.load.wiring.drivers.max(1) as f64;
        let most = (each / self.load.driver.re.ohms()).sqrt();
        let curves = top.level_db.iter_mut().zip(&mut top.limiter).zip(&mut top.voltage_v);
        for (((level, limiter), volts), current) in curves.zip(&currents) {
            let allowed = self.drive.voltage.volts() * most / current.max(1e-12);
            if allowed < *volts {
                *level += 20.0 * (allowed / *volts).max(1e-30).log10();
                (*volts, *limiter) = (allowed, Limiter::Coil);
            }
        }
        Ok(Some(top))
    }

    /// Share of the power that goes into the most loaded driver; by dc resistance.
    fn most_loaded(&self) -> f64 {
        let even = 1.0 / self.load.wiring.drivers.max(1) as f64;
        let chosen = self.wiring.chosen().filter(|chosen| !chosen.equal_shares);
        chosen.map_or(even, |chosen| driver_shares(&chosen.shares).into_iter().fold(0.0, f64::max))
    }

    /// The coil's heat at the drive, of the driver that takes most.
    pub(super) fn heat(&self) -> HeatReport {
        let cold = self.load.dc_resistance();
        let source = self.drive.source_resistance;
        let volts = self.drive.voltage.volts() * cold.ohms() / (cold.ohms() + source.ohms());
        let watts = volts * volts / cold.ohms() * self.most_loaded();
        let warming_k = self.sheet.si(FieldId::ThermalResistance).map(|rth| steady_warming_k(watts, rth));
        HeatReport {
            warming_k,
            compression_db: warming_k.map(|kelvin| compression_db(cold, source, kelvin)),
            compression_at_100_k_db: compression_db(cold, source, 100.0),
            time_s: self.sheet.si(FieldId::ThermalTime),
        }
    }
}

/// Each driver's share of the power, by dc resistance.
#[inline(never)]
#[must_use]
pub fn driver_shares(shares: &[CoilShare]) -> Vec<f64> {
    let drivers = shares.iter().map(|share| usize::from(share.coil.driver) + 1).max().unwrap_or(0);
    let of = |driver| shares.iter().filter(move |share| usize::from(share.coil.driver) == driver);
    (0..drivers).map(|driver| of(driver).map(|share| share.power).sum()).collect()
}

/// The gap under a driver that fires down; `None` where it does not.
pub(super) fn floor_gap(sheet: &Sheet, load: &Load) -> Option<FloorGap> {
    let height = sheet.given(FieldId::FloorGap)?.si();
    Some(gap_under(sheet, load, height))
}

#[inline(never)] // few drivers fire down
fn gap_under(sheet: &Sheet, load: &Load, height: f64) -> FloorGap {
    let cone = (load.driver.sd.square_metres() / std::f64::consts::PI).sqrt();
    let flange = sheet.si(FieldId::OutsideDiameter).map_or(cone, |diameter| 0.5 * diameter);
    let drivers = load.wiring.drivers.max(1) as f64;
    FloorGap {
        height: Length::from_metres(height),
        reach: Length::from_metres(flange.max(cone)),
        // Each driver has its share of the windows.
        windows: sheet.given(FieldId::FloorWindows).map(|area| Area::from_square_metres(area.si() / drivers)),
        depth: Length::from_metres(sheet.si(FieldId::Board).unwrap_or(0.018)),
    }
}

/// Sag, gap and shift; `network` is the box's own, with the gap's air on the cones.
#[inline(never)]
pub(super) fn floor(
    gap: &FloorGap,
    load: &Load,
    (enclosure, network): (&Enclosure, &Network),
    xmax: Option<Length>,
) -> Result<FloorReport, ModelError> {
    let air = &network.air;
    let before = load.driver.small_signal(air)?.fs;
    let loaded = gap.loaded(load, air)?;
    let sag = cone_sag(before)?;
    Ok(FloorReport {
        sag,
        gap: gap.height,
        least: least_gap(load.driver.sd, xmax, sag),
        added: gap.mass_on_cone(load.driver.sd, air)?,
        fs: (before, loaded.driver.small_signal(air)?.fs),
        peaks: gap.peaks(enclosure, load, network.unequal.as_ref(), air)?,
    })
}
