//! One row per field: its code, record, file key, label, quantity, range and default.
//!
//! Inputs, messages, repair, link, file, schema and the property tests all read this table. Codes and keys are
//! frozen once released: a field that goes out of use keeps its code, and its number is never given again.
use crate::units::{Decimal, Entered, Quantity, Unit};
use crate::words::label;

/// The record a field belongs to. A record can be kept on the shelf by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RecordKind {
    /// The drive unit's data sheet.
    Driver,
    /// The amplifier's ratings.
    Amplifier,
    /// The vehicle: its free space, cable route, supply.
    Vehicle,
    /// The enclosure and how it is built.
    Enclosure,
    /// What belongs to this job only: drive level, wiring, meter.
    Job,
}

impl RecordKind {
    /// Every record, in file order.
    pub const ALL: &'static [Self] =
        &[Self::Driver, Self::Amplifier, Self::Vehicle, Self::Enclosure, Self::Job];
    /// The records that can stand on the shelf.
    pub const SHELF: &'static [Self] = &[Self::Driver, Self::Amplifier, Self::Vehicle, Self::Enclosure];

    /// The record's key in files and in storage.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Driver => "driver",
            Self::Amplifier => "amplifier",
            Self::Vehicle => "vehicle",
            Self::Enclosure => "enclosure",
            Self::Job => "job",
        }
    }
    /// The record of a key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.key() == key)
    }
    /// The field that names the record.
    #[must_use]
    pub const fn name_field(self) -> FieldId {
        match self {
            Self::Driver => FieldId::DriverName,
            Self::Amplifier => FieldId::AmplifierName,
            Self::Vehicle => FieldId::VehicleName,
            Self::Enclosure => FieldId::EnclosureName,
            Self::Job => FieldId::DesignName,
        }
    }
    /// The fields of the record, in table order.
    pub fn fields(self) -> impl Iterator<Item = FieldId> {
        FieldId::ALL.iter().copied().filter(move |id| id.row().record == self)
    }
}

/// One of the values a choice may take; its place in the list is its code in links.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChoiceRow {
    /// The word in files.
    pub key: &'static str,
    /// The word on screen.
    pub label: &'static str,
}

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A number with a unit.
    Number {
        /// What it measures.
        quantity: Quantity,
        /// Smallest accepted value, SI (°C for temperatures).
        min: f64,
        /// Largest accepted value, SI (°C for temperatures).
        max: f64,
        /// What counts while nothing is entered; `None`: nothing.
        default: Option<Entered>,
    },
    /// One of a list; the first `default` counts while nothing is chosen.
    Choice {
        /// The list.
        rows: &'static [ChoiceRow],
        /// Index of the default.
        default: u8,
    },
    /// A text of at most so many characters.
    Text {
        /// Longest text, in characters.
        max: usize,
    },
}

/// A field's row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FieldRow {
    /// The number that stands for the field in a link.
    pub code: u16,
    /// The record it belongs to.
    pub record: RecordKind,
    /// The key in a file, unique within the record.
    pub key: &'static str,
    /// The name on screen.
    pub label: &'static str,
    /// What it holds.
    pub kind: Kind,
}

const fn entered(mantissa: i64, places: u8, unit: Unit) -> Option<Entered> {
    match Decimal::new(mantissa, places) {
        Some(number) => Some(Entered { number, unit }),
        None => None,
    }
}

const fn number(quantity: Quantity, min: f64, max: f64, default: Option<Entered>) -> Kind {
    Kind::Number { quantity, min, max, default }
}

const fn choice(rows: &'static [ChoiceRow], default: u8) -> Kind {
    Kind::Choice { rows, default }
}

const fn text(max: usize) -> Kind {
    Kind::Text { max }
}

macro_rules! choices {
    ($($key:literal $label:expr),+) => { &[$(ChoiceRow { key: $key, label: $label }),+] };
}

macro_rules! fields {
    ($($id:ident = $code:literal $record:ident $key:literal $label:expr, $kind:expr;)+) => {
        /// Names one entry of a design.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[allow(missing_docs)]
        pub enum FieldId { $($id),+ }

        impl FieldId {
            /// Every field, in table order.
            pub const ALL: &'static [Self] = &[$(Self::$id),+];
        }

        static ROWS: &[FieldRow] = &[$(FieldRow {
            code: $code, record: RecordKind::$record, key: $key, label: $label, kind: $kind,
        }),+];
    };
}

use Quantity::{
    Area, Compliance, Density, ForceFactor, Frequency, Inductance, Length, Mass, Percent, Power, Ratio,
    Resistance, Run, Temperature, Voltage, Volume,
};
use Unit::{Celsius, Metre, Millimetre, Ohm, One, Volt};

fields! {
    DesignName = 1 Job "name" label::DESIGN_NAME, text(60);

    DriverName = 10 Driver "name" label::DRIVER_NAME, text(60);
    Fs = 11 Driver "fs" label::FS, number(Frequency, 5.0, 200.0, None);
    Re = 12 Driver "re" label::RE, number(Resistance, 0.1, 64.0, None);
    Coils = 13 Driver "coils" label::COILS, choice(choices!("1" "1", "2" "2", "4" "4"), 0);
    SheetConnection = 14 Driver "measured" label::SHEET_CONNECTION, choice(choices!("one coil" label::ONE_COIL, "series" label::SERIES, "parallel" label::PARALLEL), 1);
    Qes = 15 Driver "qes" label::QES, number(Ratio, 0.05, 10.0, None);
    Qms = 16 Driver "qms" label::QMS, number(Ratio, 0.2, 50.0, None);
    Qts = 17 Driver "qts" label::QTS, number(Ratio, 0.04, 10.0, None);
    Vas = 18 Driver "vas" label::VAS, number(Volume, 0.5e-3, 2.0, None);
    Sd = 19 Driver "sd" label::SD, number(Area, 20e-4, 0.5, None);
    Xmax = 20 Driver "xmax" label::XMAX, number(Length, 0.5e-3, 0.1, None);
    Le = 21 Driver "le" label::LE, number(Inductance, 0.0, 0.05, None);
    ThermalPower = 22 Driver "power" label::THERMAL_POWER, number(Power, 1.0, 20_000.0, None);
    Mms = 23 Driver "mms" label::MMS, number(Mass, 1e-3, 3.0, None);
    Cms = 24 Driver "cms" label::CMS, number(Compliance, 1e-6, 1e-2, None);
    Bl = 25 Driver "bl" label::BL, number(ForceFactor, 0.5, 100.0, None);
    NominalCoil = 26 Driver "nominal" label::NOMINAL_COIL, number(Resistance, 0.5, 64.0, None);
    CutOut = 27 Driver "cut-out" label::CUT_OUT, number(Length, 0.05, 0.7, None);
    OutsideDiameter = 28 Driver "outside" label::OUTSIDE_DIAMETER, number(Length, 0.05, 0.75, None);
    MountingDepth = 29 Driver "depth" label::MOUNTING_DEPTH, number(Length, 0.01, 0.6, None);
    MagnetDiameter = 30 Driver "magnet" label::MAGNET_DIAMETER, number(Length, 0.02, 0.6, None);
    DriverDisplacement = 31 Driver "displacement" label::DRIVER_DISPLACEMENT, number(Volume, 0.0, 0.05, None);
    PoleVent = 32 Driver "pole vent" label::POLE_VENT, number(Length, 0.0, 0.15, None);

    AmplifierName = 50 Amplifier "name" label::AMPLIFIER_NAME, text(60);
    Watts4 = 51 Amplifier "into 4" label::WATTS_4, number(Power, 1.0, 50_000.0, None);
    Watts2 = 52 Amplifier "into 2" label::WATTS_2, number(Power, 1.0, 50_000.0, None);
    Watts1 = 53 Amplifier "into 1" label::WATTS_1, number(Power, 1.0, 50_000.0, None);
    RatedSupply = 54 Amplifier "rated at" label::RATED_SUPPLY, number(Voltage, 9.0, 18.0, entered(144, 1, Volt));
    StableLoad = 55 Amplifier "stable to" label::STABLE_LOAD, number(Resistance, 0.2, 16.0, None);
    Efficiency = 56 Amplifier "efficiency" label::EFFICIENCY, number(Percent, 0.2, 0.95, entered(75, 0, Unit::Percent));

    VehicleName = 70 Vehicle "name" label::VEHICLE_NAME, text(60);
    SpaceWidth = 71 Vehicle "space width" label::SPACE_WIDTH, number(Length, 0.1, 2.5, None);
    SpaceHeight = 72 Vehicle "space height" label::SPACE_HEIGHT, number(Length, 0.1, 1.5, None);
    SpaceDepth = 73 Vehicle "space depth" label::SPACE_DEPTH, number(Length, 0.1, 2.5, None);
    Clearance = 74 Vehicle "clearance" label::CLEARANCE, number(Length, 0.0, 0.1, entered(5, 0, Millimetre));
    CableRun = 75 Vehicle "cable run" label::CABLE_RUN, number(Run, 0.1, 30.0, None);
    Ambient = 76 Vehicle "ambient" label::AMBIENT, number(Temperature, -20.0, 80.0, entered(40, 0, Celsius));
    Supply = 77 Vehicle "supply" label::SUPPLY, number(Voltage, 9.0, 18.0, entered(138, 1, Volt));
    CableMaterial = 78 Vehicle "cable" label::CABLE_MATERIAL, choice(choices!("copper" label::COPPER, "copper-clad aluminium" label::CCA), 0);
    Insulation = 79 Vehicle "insulation" label::INSULATION, choice(choices!("60 C" label::INSULATION_60, "75 C" label::INSULATION_75, "90 C" label::INSULATION_90, "105 C" label::INSULATION_105), 1);
    DropLimit = 80 Vehicle "drop" label::DROP_LIMIT, number(Percent, 0.005, 0.2, entered(3, 0, Unit::Percent));
    SpeakerRun = 81 Vehicle "speaker run" label::SPEAKER_RUN, number(Run, 0.0, 20.0, entered(1, 0, Metre));
    SpeakerCable = 82 Vehicle "speaker cable" label::SPEAKER_CABLE, choice(choices!("1.5 mm2" "1.5 mm²", "2.5 mm2" "2.5 mm²", "4 mm2" "4 mm²", "6 mm2" "6 mm²", "16 AWG" "16 AWG", "14 AWG" "14 AWG", "12 AWG" "12 AWG", "10 AWG" "10 AWG"), 1);
    AirTemperature = 83 Vehicle "air" label::AIR_TEMPERATURE, number(Temperature, -30.0, 60.0, entered(20, 0, Celsius));

    EnclosureName = 100 Enclosure "name" label::ENCLOSURE_NAME, text(60);
    BoxKind = 101 Enclosure "kind" label::BOX_KIND, choice(choices!("closed" label::CLOSED, "vented" label::VENTED), 0);
    DriverCount = 102 Enclosure "drivers" label::DRIVER_COUNT, choice(choices!("1" "1", "2" "2", "3" "3", "4" "4"), 0);
    WantedNet = 103 Enclosure "net" label::WANTED_NET, number(Volume, 2e-3, 1.0, None);
    WantedTuning = 104 Enclosure "tuning" label::WANTED_TUNING, number(Frequency, 10.0, 150.0, None);
    BoxWidth = 105 Enclosure "width" label::BOX_WIDTH, number(Length, 0.1, 2.5, None);
    BoxHeight = 106 Enclosure "height" label::BOX_HEIGHT, number(Length, 0.1, 2.0, None);
    BoxDepth = 107 Enclosure "deep" label::BOX_DEPTH, number(Length, 0.1, 2.5, None);
    Board = 108 Enclosure "board" label::BOARD, number(Length, 3e-3, 0.06, entered(18, 0, Millimetre));
    FrontLayers = 109 Enclosure "front" label::FRONT_LAYERS, choice(choices!("single" label::SINGLE, "double" label::DOUBLE), 1);
    Recess = 110 Enclosure "recess" label::RECESS, choice(choices!("flush" label::FLUSH, "on top" label::ON_TOP), 0);
    RecessGap = 111 Enclosure "recess gap" label::RECESS_GAP, number(Length, 0.0, 0.02, entered(2, 0, Millimetre));
    Strips = 112 Enclosure "strips" label::STRIPS, choice(choices!("none" label::NONE, "four" label::STRIPS_FOUR, "all" label::STRIPS_ALL), 0);
    StripFace = 113 Enclosure "strip face" label::STRIP_FACE, number(Length, 0.01, 0.3, entered(70, 0, Millimetre));
    StripMeasured = 114 Enclosure "strip measured on" label::STRIP_MEASURED, choice(choices!("wide" label::WIDE_FACE, "narrow" label::NARROW_FACE), 0);
    StripVoid = 115 Enclosure "strip void" label::STRIP_VOID, choice(choices!("sealed" label::SEALED, "open" label::OPEN), 0);
    PortShape = 116 Enclosure "port" label::PORT_SHAPE, choice(choices!("round" label::ROUND, "slot" label::SLOT), 0);
    PortDiameter = 117 Enclosure "port diameter" label::PORT_DIAMETER, number(Length, 0.02, 0.4, entered(100, 0, Millimetre));
    PortWall = 118 Enclosure "port wall" label::PORT_WALL, number(Length, 0.0, 0.02, entered(3, 0, Millimetre));
    PortCount = 119 Enclosure "ports" label::PORT_COUNT, choice(choices!("1" "1", "2" "2", "3" "3", "4" "4"), 0);
    SlotHeight = 120 Enclosure "slot height" label::SLOT_HEIGHT, number(Length, 0.01, 0.3, entered(40, 0, Millimetre));
    PortLength = 121 Enclosure "port length" label::PORT_LENGTH, number(Length, 0.01, 2.5, None);
    TerminalWidth = 122 Enclosure "terminal width" label::TERMINAL_WIDTH, number(Length, 0.0, 0.3, None);
    TerminalHeight = 123 Enclosure "terminal height" label::TERMINAL_HEIGHT, number(Length, 0.0, 0.3, None);
    TerminalDepth = 124 Enclosure "terminal depth" label::TERMINAL_DEPTH, number(Length, 0.0, 0.2, entered(45, 0, Millimetre));
    Braces = 125 Enclosure "braces" label::BRACES, choice(choices!("0" label::NONE, "1" "1", "2" "2"), 0);
    BraceRim = 126 Enclosure "brace rim" label::BRACE_RIM, number(Length, 0.01, 0.4, entered(60, 0, Millimetre));
    TapeStep = 127 Enclosure "tape" label::TAPE_STEP, choice(choices!("1 mm" "1 mm", "0.5 mm" "0.5 mm", "1/16 in" "1/16 in", "1/32 in" "1/32 in"), 0);
    Kerf = 128 Enclosure "kerf" label::KERF, number(Length, 0.5e-3, 0.01, entered(32, 1, Millimetre));
    BoardDensity = 129 Enclosure "density" label::BOARD_DENSITY, number(Density, 200.0, 1500.0, entered(740, 0, Unit::KilogramPerCubicMetre));
    Leakage = 130 Enclosure "QL" label::LEAKAGE, number(Ratio, 1.0, 1000.0, entered(10, 0, One));
    Absorption = 131 Enclosure "QA" label::ABSORPTION, number(Ratio, 1.0, 1000.0, entered(50, 0, One));
    PortLoss = 132 Enclosure "QP" label::PORT_LOSS, number(Ratio, 1.0, 1000.0, entered(60, 0, One));

    DriveBy = 150 Job "drive by" label::DRIVE_BY, choice(choices!("power" label::DRIVE_POWER, "voltage" label::DRIVE_VOLTS), 0);
    DrivePower = 151 Job "power" label::DRIVE_POWER, number(Power, 0.001, 50_000.0, None);
    DriveVolts = 152 Job "voltage" label::DRIVE_VOLTS, number(Voltage, 0.01, 500.0, entered(283, 2, Volt));
    Altitude = 153 Job "altitude" label::ALTITUDE, number(Run, -400.0, 4000.0, entered(0, 0, Metre));
    Wiring = 154 Job "wiring" label::WIRING, text(200);
    MeterPercent = 155 Job "meter accuracy" label::METER_PERCENT, number(Percent, 0.0, 0.2, entered(10, 1, Unit::Percent));
    MeterCounts = 156 Job "meter counts" label::METER_COUNTS, number(Ratio, 0.0, 50.0, entered(3, 0, One));
    MeterStep = 157 Job "meter step" label::METER_STEP, number(Resistance, 0.0001, 1.0, entered(1, 1, Ohm));
    MeterLeads = 158 Job "meter leads" label::METER_LEADS, number(Resistance, 0.0, 5.0, entered(0, 1, Ohm));
    CoilTolerance = 159 Job "coil tolerance" label::COIL_TOLERANCE, number(Percent, 0.0, 0.5, entered(7, 0, Unit::Percent));
    ReadAt = 160 Job "read at" label::READ_AT, choice(choices!("amplifier end" label::AT_AMPLIFIER, "box terminals" label::AT_BOX), 0);
    MusicShare = 161 Job "music share" label::MUSIC_SHARE, number(Percent, 0.05, 1.0, entered(100, 0, Unit::Percent));
    CabinCancelling = 420 Vehicle "cabin cancelling" label::CABIN_CANCELLING, choice(choices!("not asked" label::CANCELLING_UNASKED, "none" label::CANCELLING_NONE, "off" label::CANCELLING_OFF, "on" label::CANCELLING_ON), 0);
    TrialMeter = 421 Job "trial meter" label::TRIAL_METER, choice(choices!("C" "C", "Z" label::TRIAL_METER_Z, "A" "A"), 0);
    TestBoxVolume = 422 Job "test box" label::TEST_BOX_VOLUME, number(Volume, 2e-3, 1.0, None);
    TestBoxDesign = 423 Job "test box design" label::TEST_BOX_DESIGN, text(60);
    TrialLow = 424 Job "trial low" label::TRIAL_LOW, number(Frequency, 20.0, 60.0, entered(25, 0, Unit::Hertz));
    TrialHigh = 425 Job "trial high" label::TRIAL_HIGH, number(Frequency, 60.0, 200.0, entered(80, 0, Unit::Hertz));
    ProofFs = 430 Job "proof fs" label::PROOF_FS, number(Frequency, 5.0, 300.0, None);
    ProofLow = 431 Job "proof low" label::PROOF_LOW, number(Frequency, 3.0, 300.0, None);
    ProofDip = 432 Job "proof dip" label::PROOF_DIP, number(Frequency, 5.0, 300.0, None);
    ProofHigh = 433 Job "proof high" label::PROOF_HIGH, number(Frequency, 5.0, 500.0, None);
    ProofFc = 434 Job "proof fc" label::PROOF_FC, number(Frequency, 5.0, 500.0, None);
    ProofStep = 435 Job "proof step" label::PROOF_STEP, number(Frequency, 0.01, 5.0, entered(2, 1, Unit::Hertz));
    WantedQtc = 162 Enclosure "wanted Qtc" label::WANTED_QTC, number(Ratio, 0.3, 2.0, entered(71, 2, One));
}

impl FieldId {
    /// The field's row.
    #[must_use]
    pub fn row(self) -> &'static FieldRow {
        &ROWS[self as usize]
    }
    /// The field of a link code.
    #[must_use]
    pub fn from_code(code: u16) -> Option<Self> {
        Self::ALL.iter().copied().find(|id| id.row().code == code)
    }
    /// The field of a file key.
    #[must_use]
    pub fn from_key(record: RecordKind, key: &str) -> Option<Self> {
        record.fields().find(|id| id.row().key == key)
    }
    /// The quantity of a number field.
    #[must_use]
    pub fn quantity(self) -> Option<Quantity> {
        match self.row().kind {
            Kind::Number { quantity, .. } => Some(quantity),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn codes_and_keys_are_unique_and_defaults_are_within_limits() {
        let codes: BTreeSet<u16> = FieldId::ALL.iter().map(|id| id.row().code).collect();
        assert_eq!(codes.len(), FieldId::ALL.len());
        let keys: BTreeSet<_> = FieldId::ALL.iter().map(|id| (id.row().record, id.row().key)).collect();
        assert_eq!(keys.len(), FieldId::ALL.len());
        for id in FieldId::ALL {
            match id.row().kind {
                Kind::Number { quantity, min, max, default } => {
                    assert!(min < max, "{id:?}");
                    if let Some(default) = default {
                        assert_eq!(default.unit.quantity(), quantity, "{id:?}");
                        assert!((min..=max).contains(&default.si()), "{id:?}");
                    }
                }
                Kind::Choice { rows, default } => assert!(usize::from(default) < rows.len(), "{id:?}"),
                Kind::Text { max } => assert!(max > 0),
            }
        }
    }
}
