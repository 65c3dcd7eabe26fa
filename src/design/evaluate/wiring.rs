//! The coils: every balanced wiring, the user's own, the one in use, and the load it makes for the acoustics.
use super::Filled;
use super::driver::coils;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Damping, Gap, LeastLoad, Part, SoundReport, WiringOption, WiringReport};
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::{Load, Wiring, stand_in};
use crate::model::electrical::amplifier::Amplifier;
use crate::model::electrical::cable::{AwgSize, Cable, Material, MetricSize, Size};
use crate::model::electrical::wiring::{self, Coil, CoilSet, Join, Tree, VersionChoice, balanced};
use crate::model::error::ModelError;
use crate::units::{Length, Resistance, Temperature, Voltage};

/// Nominal impedances coils are sold with, Ω (common practice, no source).
const NOMINAL_OHM: [f64; 7] = [0.5, 1.0, 2.0, 4.0, 6.0, 8.0, 16.0];
/// DC resistance over nominal impedance of a usual coil (common practice, no source).
const DC_SHARE: f64 = 0.85;

/// How many drivers stand in the box.
pub(super) fn drivers(sheet: &Sheet) -> u8 {
    sheet.choice_key(FieldId::DriverCount).parse().unwrap_or(1)
}

pub(super) fn report(
    sheet: &Sheet,
    driver: Option<&Resolved>,
    amplifier: Option<&Amplifier>,
    filled: &mut Filled,
) -> Part<WiringReport> {
    let coil = coil(sheet, driver, filled)?;
    let set = coil_set(sheet, coil, filled)?;
    let cable = speaker_cable(sheet)?;
    let supply = Voltage::from_volts(sheet.si(FieldId::Supply).unwrap_or(13.8));
    let at_amplifier = sheet.choice_key(FieldId::ReadAt) == "amplifier end";
    let build = Build {
        set: &set,
        through: if at_amplifier { cable } else { Resistance::from_ohms(0.0) },
        amplifier: amplifier.map(|amplifier| (amplifier, supply)),
    };
    let mut options =
        regular(&set)?.into_iter().map(|tree| build.option(tree)).collect::<Result<Vec<_>, _>>()?;
    let stored = sheet.text(FieldId::Wiring).parse::<Tree>().ok().map(|tree| tree.canonical());
    // One that leaves coils open is most likely of another number of coils.
    let stored = stored.filter(|tree| tree.validate(&set).is_ok() && tree.unused(&set).is_empty());
    let mut own = false;
    let by_user = match stored {
        None => None,
        Some(tree) => {
            let listed = options.iter().position(|option| option.tree == tree);
            if listed.is_none() {
                options.push(build.option(tree)?);
                own = true;
            }
            listed.or(options.len().checked_sub(1))
        }
    };
    let stable = options.iter().position(|option| option.power.is_none_or(|power| power.stable));
    let chosen = by_user.or(stable).unwrap_or(0);
    let mixed = others(sheet) > 0;
    let source = cable + Resistance::from_ohms(sheet.si(FieldId::OutputResistance).unwrap_or(0.0));
    let mut report = WiringReport {
        chosen,
        by_user: by_user.is_some(),
        own,
        mixed,
        coils: set,
        options,
        cable,
        source,
        damping: None,
    };
    report.damping = driver.and_then(|driver| damping(driver, &report));
    Ok(report)
}

/// Wirings to choose from: the regular ones; of drivers that differ in coils, each driver's coils joined one way and
/// the drivers one way.
fn regular(set: &CoilSet) -> Result<Vec<Tree>, ModelError> {
    let drivers = u8::try_from(set.driver_count()).unwrap_or(u8::MAX);
    if let Some(coils) = set.coils_per_driver().and_then(|coils| u8::try_from(coils).ok()) {
        return Ok(balanced(drivers, coils)?.into_iter().map(|wiring| wiring.tree).collect());
    }
    let ids = set.ids();
    let mut trees: Vec<Tree> = Vec::new();
    for (inner, outer) in [(false, false), (true, false), (false, true), (true, true)] {
        let join = |series: bool| if series { Join::Series } else { Join::Parallel };
        let units = (0..drivers).map(|driver| {
            let coils = ids.iter().filter(|id| id.driver == driver).map(|id| Tree::Coil(*id));
            Tree::group(join(inner), coils.collect())
        });
        let tree = Tree::group(join(outer), units.collect()).canonical();
        if !trees.contains(&tree) {
            trees.push(tree);
        }
    }
    Ok(trees)
}

/// What every option is made with.
struct Build<'a> {
    set: &'a CoilSet,
    through: Resistance,
    amplifier: Option<(&'a Amplifier, Voltage)>,
}

impl Build<'_> {
    fn option(&self, tree: Tree) -> Result<WiringOption, ModelError> {
        let figures = tree.figures(self.set)?;
        let power = self.amplifier.map(|(one, supply)| one.power_at(figures.nominal, supply)).transpose()?;
        Ok(WiringOption {
            notation: tree.to_string(),
            nominal: figures.nominal,
            reading: figures.dc + self.through,
            reading_low: figures.dc_low + self.through,
            reading_high: figures.dc_high + self.through,
            power,
            coil_share: figures.shares.iter().map(|share| share.power).fold(0.0, f64::max),
            shares: figures.shares,
            equal_shares: figures.equal_shares,
            tree,
        })
    }
}

/// Qes rises as the source's resistance joins that of the coils: Qes·(1 + Rg/Re).
///
/// # Source
/// R. H. Small, Direct-Radiator Loudspeaker System Analysis, JAES 20 (1972) 383, eq. 8 (from memory).
fn damping(driver: &Resolved, report: &WiringReport) -> Option<Damping> {
    let chosen = report.chosen()?;
    chosen.tree.balance().filter(|_| !report.mixed)?;
    let line = chosen.tree.figures(&report.coils).ok()?.dc.ohms();
    let qes = driver.small_signal.qes;
    (line > 0.0).then(|| Damping {
        source: report.source,
        qes,
        qes_driven: qes * (1.0 + report.source.ohms() / line),
    })
}

/// Least |Z| of a loudspeaker beside its rated impedance: 80 %, so an amplifier rated into a load stands that.
///
/// # Source
/// IEC 60268-5, rated impedance (from memory).
const LEAST_OF_RATED: f64 = 0.8;

/// The load's true minimum beside what the amplifier's rating allows for.
pub(super) fn least_load(sheet: &Sheet, sound: &SoundReport, amplifier: Option<&Amplifier>) -> LeastLoad {
    let least = sound.figures.impedance_minimum;
    let lowest = || Some(amplifier?.ratings().first()?.load.ohms());
    let stable = sheet.si(FieldId::StableLoad).or_else(lowest);
    let allowed = stable.map(|ohm| Resistance::from_ohms(ohm * LEAST_OF_RATED));
    LeastLoad { least: least.value, at: least.at, allowed }
}

/// How many of the drivers are of the second kind: the last ones.
fn others(sheet: &Sheet) -> u8 {
    sheet.choice_key(FieldId::OtherDrivers).parse().unwrap_or(0)
}

/// The coils of all drivers.
fn coil_set(sheet: &Sheet, coil: Coil, filled: &mut Filled) -> Part<CoilSet> {
    let (count, per_driver, others) = (drivers(sheet), coils(sheet), others(sheet));
    if others == 0 {
        return Ok(CoilSet::uniform(count, per_driver, coil)?);
    }
    if others >= count {
        return Err(Gap::Refused(ModelError::OutOfRange {
            what: "number of drivers of the second kind",
            value: f64::from(others),
            min: 0.0,
            max: f64::from(count.saturating_sub(1)),
        }));
    }
    let ends = [FieldId::OtherRe, FieldId::OtherNominal];
    let other = coil_of(sheet, ends.map(|id| sheet.si(id)), ends, filled)?;
    let of_other = sheet.choice_key(FieldId::OtherCoils).parse().unwrap_or(1_usize);
    let mut all = vec![vec![coil; usize::from(per_driver)]; usize::from(count - others)];
    all.extend(vec![vec![other; of_other]; usize::from(others)]);
    Ok(CoilSet::new(all)?)
}

/// One coil, from the sheet alone: the wiring does not wait for the rest of the driver.
fn coil(sheet: &Sheet, driver: Option<&Resolved>, filled: &mut Filled) -> Part<Coil> {
    let given_dc = sheet.si(FieldId::Re).or_else(|| driver.map(|driver| driver.re_per_coil.ohms()));
    let ends = [FieldId::Re, FieldId::NominalCoil];
    coil_of(sheet, [given_dc, sheet.si(FieldId::NominalCoil)], ends, filled)
}

/// A coil of which the DC resistance or the nominal impedance may be missing.
fn coil_of(
    sheet: &Sheet,
    [given_dc, given_nominal]: [Option<f64>; 2],
    [dc_field, nominal_field]: [FieldId; 2],
    filled: &mut Filled,
) -> Part<Coil> {
    let (dc, nominal) = match (given_dc, given_nominal) {
        (Some(dc), Some(nominal)) => (dc, nominal),
        (Some(dc), None) => {
            let nominal = nearest_nominal(dc / DC_SHARE);
            filled.insert(nominal_field, nominal);
            (dc, nominal)
        }
        (None, Some(nominal)) => {
            filled.insert(dc_field, nominal * DC_SHARE);
            (nominal * DC_SHARE, nominal)
        }
        (None, None) => return Err(Gap::Missing(vec![vec![dc_field], vec![nominal_field]])),
    };
    Ok(Coil {
        nominal: Resistance::from_ohms(nominal),
        dc: Resistance::from_ohms(dc),
        tolerance_percent: 100.0 * sheet.si(FieldId::CoilTolerance).unwrap_or(0.07),
    })
}

fn nearest_nominal(ohm: f64) -> f64 {
    let distance = |nominal: &f64| (nominal / ohm).ln().abs();
    NOMINAL_OHM.iter().copied().min_by(|a, b| distance(a).total_cmp(&distance(b))).unwrap_or(4.0)
}

/// Out and back, copper, at 20 °C.
fn speaker_cable(sheet: &Sheet) -> Result<Resistance, ModelError> {
    let run = Length::from_metres(sheet.si(FieldId::SpeakerRun).unwrap_or(0.0));
    let size = match sheet.choice_key(FieldId::SpeakerCable) {
        "1.5 mm2" => MetricSize::new(150).map(Size::Metric),
        "4 mm2" => MetricSize::new(400).map(Size::Metric),
        "6 mm2" => MetricSize::new(600).map(Size::Metric),
        "16 AWG" => AwgSize::new(16).map(Size::Awg),
        "14 AWG" => AwgSize::new(14).map(Size::Awg),
        "12 AWG" => AwgSize::new(12).map(Size::Awg),
        "10 AWG" => AwgSize::new(10).map(Size::Awg),
        _ => MetricSize::new(250).map(Size::Metric),
    };
    let size = size.ok_or(ModelError::Missing { what: "speaker cable size" })?;
    Cable { material: Material::Copper, size }.resistance(run * 2.0, Temperature::from_celsius(20.0))
}

/// The drivers as the wiring in use joins them, one that stands in for it where the coils don't share equally.
pub(super) fn load(driver: &Resolved, wiring: &WiringReport) -> Part<Load> {
    let chosen = wiring.chosen().ok_or(Gap::Waiting)?;
    let refused = |what| Gap::Refused(ModelError::Impossible { what });
    if wiring.mixed {
        return Err(refused("a sound for drivers of two kinds in one box: the model knows one kind"));
    }
    let coils = driver.coils as usize;
    let drivers = wiring.coils.driver_count();
    let wiring = match chosen.tree.balance() {
        Some((series, _)) => Wiring::of_coils(drivers, coils, series as usize)?,
        None => stand_in(&chosen.tree, drivers, coils)?,
    };
    Ok(Load { driver: driver.driver, wiring })
}

/// Coil versions to order for this many drivers, best first.
pub(super) fn versions(sheet: &Sheet, amplifier: &Amplifier) -> Vec<VersionChoice> {
    let supply = Voltage::from_volts(sheet.si(FieldId::Supply).unwrap_or(13.8));
    wiring::versions(drivers(sheet), amplifier, supply).unwrap_or_default()
}
