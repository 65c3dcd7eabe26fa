//! Drive, network, curves and figures.
use super::enclosure::{acoustic_port, is_vented, planned_port, wanted_net, wanted_tuning};
use super::{Filled, HIGHEST_HZ, LOWEST_HZ, POINTS};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{BoxReport, DriveReport, Gap, Part, SoundReport, WiringReport};
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::figures::figures;
use crate::model::acoustics::slack::Built;
use crate::model::acoustics::{
    Air, Drive, Enclosure, Load, Losses, SealedChamber, VentedChamber, closed_box_frequency, closed_box_q,
    respond,
};
use crate::model::numeric::log_grid;
use crate::units::{Length, Power, Voltage, Volume};
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
    let (net, enclosure) = enclosure(sheet, load, parts, filled)?;
    let drive = drive(sheet, wiring, filled)?;
    let network = enclosure.network(*load, parts.air)?;
    let source = Drive {
        voltage: drive.voltage,
        source_resistance: wiring.source,
        distance: Length::from_metres(1.0),
    };
    let response = respond(&network, source, &log_grid(LOWEST_HZ, HIGHEST_HZ, POINTS))?;
    let figures = figures(&network, source, &response)?;
    let (resonance, qtc) = match &enclosure {
        Enclosure::Vented { rear } => (rear.port.tuning(net, &parts.air)?, None),
        _ => (closed_box_frequency(load, net, &parts.air)?, Some(closed_box_q(load, net, &parts.air)?)),
    };
    let inside = parts.enclosure.map_or([net.cubic_metres().cbrt(); 3], |enclosure| {
        enclosure.plan.current().assembly.inside.millimetres().map(|mm| mm * 1e-3)
    });
    Ok(SoundReport {
        built: Built {
            load: *load,
            enclosure,
            inside: inside.map(Length::from_metres),
            air: parts.air,
            drive: source,
        },
        air: parts.air,
        drive,
        net,
        response: Rc::new(response),
        figures,
        resonance,
        qtc,
        xmax: driver.xmax,
    })
}

/// The box as cut; while it can't be cut yet, the volume and tuning asked for.
fn enclosure(
    sheet: &Sheet,
    load: &Load,
    parts: &Parts<'_>,
    filled: &mut Filled,
) -> Part<(Volume, Enclosure)> {
    let net = match parts.enclosure {
        Some(enclosure) => enclosure.plan.net(),
        None => wanted_net(sheet, Some(load), &parts.air, filled)?,
    };
    let losses = Losses { ql: sheet.si(FieldId::Leakage), qa: sheet.si(FieldId::Absorption) };
    if !is_vented(sheet) {
        return Ok((net, Enclosure::Closed { rear: SealedChamber { volume: net, losses } }));
    }
    let as_cut = parts.enclosure.and_then(|enclosure| enclosure.plan.current().assembly.port);
    let port = match as_cut {
        Some(port) => acoustic_port(&port, sheet),
        None => {
            let tuning = wanted_tuning(sheet, Some(net), Some(load), &parts.air, filled)?;
            planned_port(sheet, net, tuning, &parts.air)?
        }
    };
    Ok((net, Enclosure::Vented { rear: VentedChamber { volume: net, losses, port } }))
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
