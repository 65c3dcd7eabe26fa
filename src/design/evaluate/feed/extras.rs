//! Loudspeaker cable, real power in the box, capacitor, proof of the cable.
use super::{Parts, supply_voltage};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{LineReport, Part, PowerAt, ProofReport, RealPower, WiringOption};
use crate::model::acoustics::{Drive, respond};
use crate::model::electrical::amplifier::SupplyDraw;
use crate::model::electrical::cable::{AwgSize, Cable, Material, MetricSize, Size};
use crate::model::electrical::line::{line_effect, real_power};
use crate::model::electrical::prove::{Sample, prove};
use crate::model::electrical::supply::{CapacitorHelp, capacitor as capacitor_help};
use crate::model::error::ModelError;
use crate::model::measurement::THIRD_OCTAVE_TONES_HZ as THIRDS;
use crate::units::{Area, Current, Frequency, Length, Mass, Power, Resistance, Temperature, Voltage};

/// Sizes of loudspeaker cable to compare, in hundredths of a mm².
const LINE_SIZES: [u16; 5] = [150, 250, 400, 600, 1000];

pub(super) fn line(sheet: &Sheet, parts: &Parts<'_>, option: &WiringOption) -> Part<LineReport> {
    let room = Temperature::from_celsius(20.0);
    let run = Length::from_metres(sheet.si(FieldId::SpeakerRun).unwrap_or(0.0));
    let cable = parts.wiring.map_or(Resistance::from_ohms(0.0), |wiring| wiring.cable);
    let dc = match parts.wiring {
        Some(wiring) => option.tree.figures(&wiring.coils)?.dc,
        None => option.nominal,
    };
    let effect = |rc, qes, qms| line_effect(rc, option.nominal, dc, qes, qms);
    let chosen =
        parts.driver.and_then(|driver| effect(cable, driver.small_signal.qes, driver.small_signal.qms).ok());
    let mut sizes = Vec::new();
    for size in LINE_SIZES.iter().filter_map(|size| MetricSize::new(*size)).map(Size::Metric) {
        let rc = Cable { material: Material::Copper, size }.resistance(run * 2.0, room)?;
        sizes.push((size, effect(rc, 1.0, 1.0)?.loss_db));
    }
    let qts_bare = parts.driver.map(|driver| driver.qts);
    Ok(LineReport { chosen, qts_bare, sizes, response: of_response(parts)? })
}

/// The level in this box with the cable over that without it, the same voltage at the amplifier.
fn of_response(parts: &Parts<'_>) -> Result<Vec<(Frequency, f64)>, ModelError> {
    let Some((sound, wiring)) = parts.sound.zip(parts.wiring) else { return Ok(Vec::new()) };
    let with = Drive { source_resistance: wiring.source, ..sound.built.drive };
    let bare = Resistance::from_ohms((wiring.source.ohms() - wiring.cable.ohms()).max(0.0));
    let without = Drive { source_resistance: bare, ..with };
    let [with, without] = [with, without].map(|drive| respond(&sound.network, drive, &THIRDS));
    let levels = with?.spl_db.into_iter().zip(without?.spl_db);
    Ok(THIRDS
        .iter()
        .zip(levels)
        .map(|(hz, (with, without))| (Frequency::from_hertz(*hz), with - without))
        .collect())
}

/// Power over frequency at the gain's voltage; the points of the response are even by octaves.
pub(super) fn real(parts: &Parts<'_>, volts: Voltage) -> Option<RealPower> {
    let (sound, wiring) = (parts.sound?, parts.wiring?);
    let response = &sound.response;
    let points = response.frequencies_hz.iter().zip(&response.impedance_ohm).map(|(hz, z)| PowerAt {
        frequency: Frequency::from_hertz(*hz),
        impedance: Resistance::from_ohms(z.norm()),
        power: real_power(volts, *z, wiring.cable),
    });
    let points: Vec<PowerAt> = points.collect();
    let near = |hz: f64| {
        // The nearest by octaves is the one of the smallest ratio; logarithms of all would cost more than all else here.
        let off = |point: &&PowerAt| {
            let ratio = point.frequency.hertz() / hz;
            ratio.max(1.0 / ratio)
        };
        points.iter().min_by(|a, b| off(a).total_cmp(&off(b))).copied()
    };
    let range = || points.iter().filter(|point| (20.0..=125.0).contains(&point.frequency.hertz()));
    let watts = |point: &PowerAt| point.power.watts();
    let most = range().max_by(|a, b| watts(a).total_cmp(&watts(b)))?;
    let least = range().min_by(|a, b| watts(a).total_cmp(&watts(b)))?;
    let mean = range().map(watts).sum::<f64>() / range().count().max(1) as f64;
    Some(RealPower {
        at: THIRDS.iter().filter_map(|hz| near(*hz)).collect(),
        most: *most,
        least: *least,
        mean: Power::from_watts(mean),
    })
}

/// Against the part of the worst case that the average does not bring.
pub(super) fn capacitor(sheet: &Sheet, draw: SupplyDraw) -> Option<Part<CapacitorHelp>> {
    let farads = sheet.si(FieldId::CapFarads)?;
    let own = Resistance::from_ohms(1e-3 * sheet.si(FieldId::CapMilliohm).unwrap_or(0.0));
    let sag = Voltage::from_volts(sheet.si(FieldId::CapSag).unwrap_or(0.5));
    let burst = (draw.worst_case.amperes() - draw.average.amperes()).max(1.0);
    let help = capacitor_help(farads, own, supply_voltage(sheet), sag, Current::from_amperes(burst));
    Some(help.map_err(Into::into))
}

/// What mass or millivolts prove, once either is entered.
pub(in crate::design::evaluate) fn proof(sheet: &Sheet) -> Option<Part<ProofReport>> {
    let weighed = sheet.si(FieldId::ProofLength).zip(sheet.si(FieldId::ProofMass));
    let measured = sheet.si(FieldId::ProofCurrent).zip(sheet.si(FieldId::ProofMillivolts));
    if weighed.is_none() && measured.is_none() {
        return None;
    }
    Some(judge(sheet, weighed, measured).map_err(Into::into))
}

fn judge(
    sheet: &Sheet,
    weighed: Option<(f64, f64)>,
    measured: Option<(f64, f64)>,
) -> Result<ProofReport, ModelError> {
    let mut sample = Sample::default();
    if let Some((metres, kilograms)) = weighed {
        sample = sample.weighed(Length::from_metres(metres), Mass::from_kilograms(kilograms))?;
    }
    if let Some((amperes, millivolts)) = measured {
        sample = sample.measured(
            Length::from_metres(1.0),
            Voltage::from_volts(1e-3 * millivolts),
            Current::from_amperes(amperes),
            Temperature::from_celsius(20.0),
        )?;
    }
    let claimed = size(sheet.choice_key(FieldId::ProofSize));
    let proof = prove(sample, claimed.map(|size| claimed_area(size, measured.is_some())))?;
    Ok(ProofReport { claimed, proof })
}

/// Metal that a size promises: by its resistance where that was measured. A metric size may hold anything from that to
/// its nominal area, so what was only weighed is held against the middle.
fn claimed_area(size: Size, measured: bool) -> Area {
    let by_resistance = size.copper_equivalent_area();
    match size {
        Size::Metric(metric) if !measured => {
            let product = by_resistance.square_metres() * metric.nominal_area().square_metres();
            Area::from_square_metres(product.sqrt())
        }
        _ => by_resistance,
    }
}

/// The size of a key such as `35 mm2` or `1/0 AWG`.
fn size(key: &str) -> Option<Size> {
    if let Some(metric) = key.strip_suffix(" mm2") {
        return MetricSize::new(metric.parse::<u16>().ok()?.checked_mul(100)?).map(Size::Metric);
    }
    let gauge = key.strip_suffix(" AWG")?;
    let number = match gauge.strip_suffix("/0") {
        Some(zeros) => 1 - zeros.parse::<i8>().ok()?,
        None => gauge.parse().ok()?,
    };
    AwgSize::new(number).map(Size::Awg)
}
