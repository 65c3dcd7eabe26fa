//! Drive, network, curves and figures.
use super::kind::{Base, describe};
use super::path::{Loud, amplifier_voltage, cabin, floor, floor_gap, signal_path};
use super::{Filled, HIGHEST_HZ, LOWEST_HZ, POINTS};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{
    BoxReport, DriveReport, Gap, LoudReport, Part, Report, SoundReport, WiringReport,
};
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::figures::figures;
use crate::model::acoustics::slack::Built;
use crate::model::acoustics::{Air, Drive, Intake, Load, Response, SignalPath, respond};
use crate::model::electrical::amplifier::Amplifier;
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::model::numeric::log_grid;
use crate::units::{Frequency, Length, Power, Voltage};
use std::rc::Rc;

/// What the sound rests on.
pub(super) struct Parts<'a> {
    pub(super) load: Option<&'a Load>,
    pub(super) driver: Option<&'a Resolved>,
    pub(super) wiring: Option<&'a WiringReport>,
    pub(super) enclosure: Option<&'a BoxReport>,
    pub(super) air: Air,
}

pub(super) fn report(sheet: &Sheet, parts: &Parts<'_>, filled: &mut Filled) -> Part<SoundReport> {
    let (load, driver, wiring) = match (parts.load, parts.driver, parts.wiring) {
        (Some(load), Some(driver), Some(wiring)) => (load, driver, wiring),
        _ => return Err(Gap::Waiting),
    };
    let gap = floor_gap(sheet, load);
    let moving = match &gap {
        Some(gap) => gap.loaded(load, &parts.air)?,
        None => *load,
    };
    let base = Base { sheet, load: &moving, plan: parts.enclosure, air: parts.air };
    let described = describe(&base, filled)?;
    let drive = drive(sheet, wiring, filled)?;
    let mut network = described.enclosure.network(moving, parts.air)?;
    network.unequal = unequal(wiring);
    let source = Drive {
        voltage: drive.voltage,
        source_resistance: wiring.source,
        distance: Length::from_metres(1.0),
    };
    let unfiltered = Rc::new(respond(&network, source, &log_grid(LOWEST_HZ, HIGHEST_HZ, POINTS))?);
    let path = signal_path(sheet);
    // An amplifier driven beyond its rating already is the drive's own matter; the filters only count from there.
    let most = amplifier_voltage(wiring).map(|volts| (volts.volts() / drive.voltage.volts()).max(1.0));
    let (response, clipped) = if path.stages.is_empty() {
        (Rc::clone(&unfiltered), None)
    } else {
        filtered(&path, &unfiltered, most)?
    };
    let figures = figures(&network, source, &response)?;
    // An infinite baffle has no inside; any size does there.
    let edge = described.net.cubic_metres().powf(1.0 / 3.0).max(0.1);
    let inside = parts.enclosure.filter(|enclosure| !enclosure.spec.is_baffle());
    let inside = inside.map_or([edge; 3], |enclosure| {
        let inside = enclosure.plan.current().assembly.inside;
        [inside.width, inside.height, inside.depth].map(|size| size.metres())
    });
    Ok(SoundReport {
        built: Built {
            load: moving,
            unequal: network.unequal.clone(),
            enclosure: described.enclosure,
            inside: inside.map(Length::from_metres),
            air: parts.air,
            drive: source,
            path,
            most,
        },
        air: parts.air,
        drive,
        net: described.net,
        figures,
        resonance: described.resonance,
        qtc: described.q,
        xmax: driver.xmax,
        floor: gap.map(|gap| floor(&gap, load, (&described.enclosure, &network), driver.xmax)).transpose()?,
        radiator_xmax: sheet.si(FieldId::RadiatorTravel).map(Length::from_metres),
        response,
        unfiltered,
        network: Rc::new(network),
        clipped,
        cabin: cabin(sheet),
    })
}

/// The wiring in use, where its coils don't share equally.
pub(crate) fn unequal(wiring: &WiringReport) -> Option<Tree> {
    let chosen = wiring.chosen()?;
    match chosen.tree.balance() {
        Some(_) => None,
        None => Some(chosen.tree.clone()),
    }
}

/// The curves behind the filters, and the lowest frequency at which these ask for more than the amplifier has.
#[inline(never)]
fn filtered(
    path: &SignalPath,
    plain: &Response,
    most: Option<f64>,
) -> Result<(Rc<Response>, Option<Frequency>), ModelError> {
    let asked = path.gain_db(&plain.frequencies_hz);
    let clipped = most.and_then(|most| asked.iter().position(|db| factor(*db) > most * 1.005));
    let clipped = clipped.and_then(|i| plain.frequencies_hz.get(i)).copied().map(Frequency::from_hertz);
    Ok((Rc::new(path.applied(plain, most)?), clipped))
}

fn factor(db: f64) -> f64 {
    10f64.powf(db / 20.0)
}

/// How loud it can get, and what it takes.
pub(super) fn loud(sheet: &Sheet, report: &Report, amplifier: Option<&Amplifier>) -> Part<LoudReport> {
    let (driver, wiring, sound) = match (&report.driver, &report.wiring, &report.sound) {
        (Ok(driver), Ok(wiring), Ok(sound)) => (driver, wiring, sound),
        _ => return Err(Gap::Waiting),
    };
    let (load, network, drive) = (&sound.built.load, &*sound.network, &sound.built.drive);
    let loud = Loud { sheet, load, network, driver, wiring, amplifier, drive };
    let most = sound.built.most.unwrap_or(f64::INFINITY);
    let asked = sound.built.path.gain_db(&sound.unfiltered.frequencies_hz);
    let gains: Vec<f64> = asked.iter().map(|db| factor(*db).min(most)).collect();
    Ok(LoudReport {
        intake: Intake::of(&sound.built.drive, &sound.unfiltered).through(&gains),
        ceiling: loud.ceiling(&sound.unfiltered, &sound.built.path)?,
        heat: loud.heat(),
    })
}

/// Volts, or √(P·Z) into the nominal load. Without a number: what the amplifier gives there, else 1 W.
pub(super) fn drive(sheet: &Sheet, wiring: &WiringReport, filled: &mut Filled) -> Part<DriveReport> {
    let chosen = wiring.chosen().ok_or(Gap::Waiting)?;
    let ohm = chosen.nominal.ohms();
    if sheet.choice_key(FieldId::DriveBy) == "voltage" {
        let volts = sheet.si(FieldId::DriveVolts).unwrap_or(2.83);
        return Ok(DriveReport {
            voltage: Voltage::from_volts(volts),
            power: Power::from_watts(volts * volts / ohm),
        });
    }
    let watts = sheet.si(FieldId::DrivePower).unwrap_or_else(|| {
        let watts = chosen.power.map_or(1.0, |power| power.expected().watts());
        filled.insert(FieldId::DrivePower, watts);
        watts
    });
    Ok(DriveReport { voltage: Voltage::from_volts((watts * ohm).sqrt()), power: Power::from_watts(watts) })
}
