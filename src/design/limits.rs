//! One row per field: its code, record, file key, label, quantity, range and default.
//!
//! Inputs, messages, repair, link, file, schema and the property tests all read this table. Codes and keys are
//! frozen once released: a field that goes out of use keeps its code, and its number is never given again.
use crate::units::{Decimal, Entered, Quantity, Unit};
use crate::words::{
    acoustics, clearance, cutting as cut, faces, find, fronts, guided, label, microphone, rings, shape,
    slack, space, testbox, wood,
};

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

/// Which of the boards entered a group of parts is cut from.
const WHICH_BOARD: &[ChoiceRow] =
    choices!("first" wood::IS_FIRST, "second" wood::IS_SECOND, "third" wood::IS_THIRD);

/// What is ticked or not.
const TICKED: &[ChoiceRow] = choices!("no" wood::UNTICKED, "yes" wood::TICKED);

macro_rules! fields {
    (
        $($id:ident = $code:literal $record:ident $key:literal $label:expr, $kind:expr;)+
        @later
        $($later:ident = $later_code:literal $later_record:ident $later_key:literal $later_label:expr, $later_kind:expr;)+
    ) => {
        /// Names one entry of a design.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[allow(missing_docs)]
        pub enum FieldId { $($id,)+ $($later),+ }

        impl FieldId {
            /// Every field, in table order.
            pub const ALL: &'static [Self] = &[$(Self::$id,)+ $(Self::$later),+];
        }

        static ROWS: &[FieldRow] = &[$(FieldRow {
            code: $code, record: RecordKind::$record, key: $key, label: $label, kind: $kind,
        }),+];

        /// Rows that no first start asks for, apart so that they may come after the first result.
        static LATER: &[FieldRow] = &[$(FieldRow {
            code: $later_code, record: RecordKind::$later_record, key: $later_key, label: $later_label, kind: $later_kind,
        }),+];
    };
}

/// Slopes of a high-pass or low-pass; its corner stands in a field of its own, and without one there is no filter.
const OTHER_RATING: &[ChoiceRow] = choices!("main" label::AS_MAIN, "60 C" label::INSULATION_60, "75 C" label::INSULATION_75, "80 C" label::INSULATION_80, "90 C" label::INSULATION_90, "105 C" label::INSULATION_105, "125 C" label::INSULATION_125, "200 C" label::INSULATION_200, "unknown" label::INSULATION_UNKNOWN);
const SLOPES: &[ChoiceRow] = choices!("Butterworth 12" acoustics::B12, "Butterworth 18" acoustics::B18, "Butterworth 24" acoustics::B24, "Linkwitz-Riley 12" acoustics::LR12, "Linkwitz-Riley 24" acoustics::LR24);

use Quantity::{
    Area, Compliance, Current, Density, ForceFactor, Frequency, Inductance, Length, Mass, Percent, Power,
    Ratio, Resistance, Run, Temperature, Voltage, Volume,
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
    Insulation = 79 Vehicle "insulation" label::INSULATION, choice(choices!("60 C" label::INSULATION_60, "75 C" label::INSULATION_75, "90 C" label::INSULATION_90, "105 C" label::INSULATION_105, "unknown" label::INSULATION_UNKNOWN, "80 C" label::INSULATION_80, "125 C" label::INSULATION_125, "200 C" label::INSULATION_200), 1);
    DropLimit = 80 Vehicle "drop" label::DROP_LIMIT, number(Percent, 0.005, 0.2, entered(3, 0, Unit::Percent));
    SpeakerRun = 81 Vehicle "speaker run" label::SPEAKER_RUN, number(Run, 0.0, 20.0, entered(1, 0, Metre));
    SpeakerCable = 82 Vehicle "speaker cable" label::SPEAKER_CABLE, choice(choices!("1.5 mm2" "1.5 mm²", "2.5 mm2" "2.5 mm²", "4 mm2" "4 mm²", "6 mm2" "6 mm²", "16 AWG" "16 AWG", "14 AWG" "14 AWG", "12 AWG" "12 AWG", "10 AWG" "10 AWG"), 1);
    AirTemperature = 83 Vehicle "air" label::AIR_TEMPERATURE, number(Temperature, -30.0, 60.0, entered(20, 0, Celsius));

    EnclosureName = 100 Enclosure "name" label::ENCLOSURE_NAME, text(60);
    BoxKind = 101 Enclosure "kind" label::BOX_KIND, choice(choices!("closed" label::CLOSED, "vented" label::VENTED, "infinite baffle" label::INFINITE_BAFFLE, "passive radiator" label::PASSIVE_RADIATOR, "bandpass 4" label::BANDPASS_4, "bandpass 6 outward" label::BANDPASS_6_OUTWARD, "bandpass 6 inward" label::BANDPASS_6_INWARD, "push-pull" label::PUSH_PULL), 0);
    DriverCount = 102 Enclosure "drivers" label::DRIVER_COUNT, choice(choices!("1" "1", "2" "2", "3" "3", "4" "4", "5" "5", "6" "6", "7" "7", "8" "8"), 0);
    WantedNet = 103 Enclosure "net" label::WANTED_NET, number(Volume, 2e-3, 1.0, None);
    WantedTuning = 104 Enclosure "tuning" label::WANTED_TUNING, number(Frequency, 10.0, 150.0, None);
    BoxWidth = 105 Enclosure "width" label::BOX_WIDTH, number(Length, 0.1, 2.5, None);
    BoxHeight = 106 Enclosure "height" label::BOX_HEIGHT, number(Length, 0.1, 2.0, None);
    BoxDepth = 107 Enclosure "deep" label::BOX_DEPTH, number(Length, 0.1, 2.5, None);
    Board = 108 Enclosure "board" label::BOARD, number(Length, 3e-3, 0.06, entered(18, 0, Millimetre));
    FrontLayers = 109 Enclosure "front" label::FRONT_LAYERS, choice(choices!("single" label::SINGLE, "double" label::DOUBLE), 1);
    Recess = 110 Enclosure "recess" label::RECESS, choice(choices!("flush" label::FLUSH, "on top" label::ON_TOP), 0);
    RecessGap = 111 Enclosure "recess gap" label::RECESS_GAP, number(Length, 0.0, 0.02, entered(2, 0, Millimetre));
    Strips = 112 Enclosure "strips" label::STRIPS, choice(choices!("none" label::NONE, "four" label::STRIPS_FOUR, "all" label::STRIPS_ALL, "own" label::STRIPS_OWN), 0);
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
    MusicShare = 161 Job "music share" label::MUSIC_SHARE, number(Percent, 0.05, 1.0, entered(33, 0, Unit::Percent));
    WantedQtc = 162 Enclosure "wanted Qtc" label::WANTED_QTC, number(Ratio, 0.3, 2.0, entered(71, 2, One));

    OutputUse = 230 Amplifier "output" label::OUTPUT_USE, choice(choices!("one channel" label::ONE_CHANNEL, "bridged" label::BRIDGED, "strapped" label::STRAPPED), 0);
    Channels = 231 Amplifier "channels" label::CHANNELS, choice(choices!("1" "1", "2" "2", "4" "4", "5" "5", "6" "6"), 0);
    BridgedLoad = 232 Amplifier "bridged to" label::BRIDGED_LOAD, number(Resistance, 0.2, 16.0, None);
    BridgedWatts = 233 Amplifier "bridged power" label::BRIDGED_WATTS, number(Power, 1.0, 50_000.0, None);
    StrapAllowed = 234 Amplifier "strapping" label::STRAP_ALLOWED, choice(choices!("not stated" label::NOT_STATED, "allowed" label::ALLOWED), 0);
    AmplifierClass = 235 Amplifier "class" label::AMPLIFIER_CLASS, choice(choices!("not stated" label::NOT_STATED, "AB" "AB", "D" "D", "G or H" label::CLASS_GH), 0);
    SupplyKind = 236 Amplifier "supply" label::SUPPLY_KIND, choice(choices!("follows" label::RAILS_FOLLOW, "regulated" label::RAILS_REGULATED), 0);
    AmplifierFuse = 237 Amplifier "fuse" label::AMPLIFIER_FUSE, number(Current, 1.0, 1000.0, None);
    RatingBasis = 238 Amplifier "rating basis" label::RATING_BASIS, choice(choices!("not stated" label::NOT_STATED, "CTA-2006" "CTA-2006", "CTA-2006-C" "CTA-2006-C"), 0);
    OtherSupply = 239 Amplifier "also rated at" label::OTHER_SUPPLY, number(Voltage, 9.0, 18.0, None);
    OtherWatts4 = 240 Amplifier "also into 4" label::OTHER_WATTS_4, number(Power, 1.0, 50_000.0, None);
    OtherWatts2 = 241 Amplifier "also into 2" label::OTHER_WATTS_2, number(Power, 1.0, 50_000.0, None);
    OtherWatts1 = 242 Amplifier "also into 1" label::OTHER_WATTS_1, number(Power, 1.0, 50_000.0, None);

    OtherDraw = 244 Vehicle "other amplifiers" label::OTHER_DRAW, number(Current, 1.0, 500.0, None);
    OtherRun = 530 Vehicle "other run" label::OTHER_RUN, number(Run, 0.05, 10.0, None);
    SecondOtherDraw = 531 Vehicle "second other amplifier" label::SECOND_OTHER_DRAW, number(Current, 1.0, 500.0, None);
    SecondOtherRun = 532 Vehicle "second other run" label::OTHER_RUN, number(Run, 0.05, 10.0, None);
    ThirdOtherDraw = 533 Vehicle "third other amplifier" label::THIRD_OTHER_DRAW, number(Current, 1.0, 500.0, None);
    ThirdOtherRun = 534 Vehicle "third other run" label::OTHER_RUN, number(Run, 0.05, 10.0, None);
    BranchRun = 246 Vehicle "branch run" label::BRANCH_RUN, number(Run, 0.05, 10.0, entered(5, 1, Metre));
    BranchAmbient = 247 Vehicle "branch ambient" label::BRANCH_AMBIENT, number(Temperature, -20.0, 80.0, None);
    BranchInsulation = 630 Vehicle "branch insulation" label::BRANCH_INSULATION, choice(OTHER_RATING, 0);
    OtherAmbient = 631 Vehicle "other ambient" label::OTHER_AMBIENT, number(Temperature, -20.0, 80.0, None);
    OtherInsulation = 632 Vehicle "other insulation" label::BRANCH_INSULATION, choice(OTHER_RATING, 0);
    SecondOtherAmbient = 633 Vehicle "second other ambient" label::OTHER_AMBIENT, number(Temperature, -20.0, 80.0, None);
    SecondOtherInsulation = 634 Vehicle "second other insulation" label::BRANCH_INSULATION, choice(OTHER_RATING, 0);
    ThirdOtherAmbient = 635 Vehicle "third other ambient" label::OTHER_AMBIENT, number(Temperature, -20.0, 80.0, None);
    ThirdOtherInsulation = 636 Vehicle "third other insulation" label::BRANCH_INSULATION, choice(OTHER_RATING, 0);
    ReturnVia = 248 Vehicle "return" label::RETURN_VIA, choice(choices!("cable" label::RETURN_CABLE, "body" label::RETURN_BODY), 0);
    BodyMilliohm = 249 Vehicle "body milliohm" label::BODY_MILLIOHM, number(Ratio, 0.0, 100.0, entered(15, 1, One));
    GaugeKind = 250 Vehicle "gauge" label::GAUGE_KIND, choice(choices!("AWG" label::GAUGE_AWG, "SAE" label::GAUGE_SAE), 0);
    FuseDistance = 251 Vehicle "fuse distance" label::FUSE_DISTANCE, number(Length, 0.0, 3.0, entered(200, 0, Millimetre));
    BatteryKind = 252 Vehicle "battery" label::BATTERY_KIND, choice(choices!("flooded" label::FLOODED, "AGM" label::AGM, "lithium" label::LITHIUM), 0);
    BatteryCapacity = 253 Vehicle "battery Ah" label::BATTERY_CAPACITY, number(Ratio, 5.0, 600.0, entered(70, 0, One));
    BatteryMilliohm = 254 Vehicle "battery milliohm" label::BATTERY_MILLIOHM, number(Ratio, 0.2, 200.0, None);
    RestVolts = 255 Vehicle "battery at rest" label::REST_VOLTS, number(Voltage, 9.0, 15.0, None);
    Reserve = 256 Vehicle "reserve" label::RESERVE, number(Percent, 0.0, 0.95, entered(50, 0, Unit::Percent));
    ExistingLoad = 257 Vehicle "own load" label::EXISTING_LOAD, number(Current, 0.0, 300.0, entered(35, 0, Unit::Ampere));
    DrainMilliamps = 258 Vehicle "drain mA" label::DRAIN, number(Ratio, 0.0, 5000.0, entered(50, 0, One));
    AlternatorRating = 259 Vehicle "alternator" label::ALTERNATOR, number(Current, 10.0, 600.0, None);
    IdleShare = 260 Vehicle "idle share" label::IDLE_SHARE, number(Percent, 0.05, 1.0, entered(50, 0, Unit::Percent));
    Charging = 261 Vehicle "charging" label::CHARGING, choice(choices!("alternator" label::CHARGE_PLAIN, "sensor" label::CHARGE_SENSOR, "smart" label::CHARGE_SMART, "converter" label::CHARGE_CONVERTER), 0);
    SecondBattery = 262 Vehicle "second battery" label::SECOND_BATTERY, choice(choices!("none" label::NONE, "isolator" label::SECOND_ISOLATOR, "charger" label::SECOND_CHARGER), 0);
    SecondRun = 263 Vehicle "second run" label::SECOND_RUN, number(Run, 0.1, 20.0, None);
    SecondCapacity = 264 Vehicle "second Ah" label::SECOND_CAPACITY, number(Ratio, 5.0, 600.0, entered(70, 0, One));
    ChargerCurrent = 265 Vehicle "charger" label::CHARGER_CURRENT, number(Current, 1.0, 200.0, entered(30, 0, Unit::Ampere));
    AlternatorRun = 266 Vehicle "alternator run" label::ALTERNATOR_RUN, number(Run, 0.1, 10.0, None);
    EngineAmbient = 267 Vehicle "engine ambient" label::ENGINE_AMBIENT, number(Temperature, -20.0, 130.0, entered(60, 0, Celsius));
    CapFarads = 268 Vehicle "capacitor" label::CAP_FARADS, number(Ratio, 0.01, 3000.0, None);
    CapMilliohm = 269 Vehicle "capacitor milliohm" label::CAP_MILLIOHM, number(Ratio, 0.0, 100.0, entered(2, 0, One));
    CapSag = 270 Vehicle "capacitor sag" label::CAP_SAG, number(Voltage, 0.1, 3.0, entered(5, 1, Volt));
    ProofSize = 271 Job "sold as" label::PROOF_SIZE, choice(choices!("not said" label::NOT_STATED, "4 mm2" "4 mm²", "6 mm2" "6 mm²", "10 mm2" "10 mm²", "16 mm2" "16 mm²", "25 mm2" "25 mm²", "35 mm2" "35 mm²", "50 mm2" "50 mm²", "70 mm2" "70 mm²", "95 mm2" "95 mm²", "12 AWG" "12 AWG", "10 AWG" "10 AWG", "8 AWG" "8 AWG", "6 AWG" "6 AWG", "4 AWG" "4 AWG", "2 AWG" "2 AWG", "1/0 AWG" "1/0 AWG", "2/0 AWG" "2/0 AWG", "4/0 AWG" "4/0 AWG"), 0);
    ProofLength = 272 Job "stripped length" label::PROOF_LENGTH, number(Length, 0.02, 5.0, None);
    ProofMass = 273 Job "stripped mass" label::PROOF_MASS, number(Mass, 1e-4, 20.0, None);
    ProofCurrent = 274 Job "proof current" label::PROOF_CURRENT, number(Current, 0.1, 500.0, None);
    ProofMillivolts = 275 Job "millivolts a metre" label::PROOF_MILLIVOLTS, number(Ratio, 0.01, 5000.0, None);
    TestCurrent = 276 Job "test current" label::TEST_CURRENT, number(Current, 1.0, 1000.0, None);
    GainPower = 277 Job "gain power" label::GAIN_POWER, number(Power, 1.0, 50_000.0, None);
    FuseBreaking = 279 Vehicle "fuse breaks" label::FUSE_BREAKING, number(Current, 100.0, 200_000.0, None);
    ParkedLoad = 278 Vehicle "parked load" label::PARKED_LOAD, number(Current, 0.0, 300.0, entered(5, 0, Unit::Ampere));
    LowPass = 290 Job "low-pass" label::LOW_PASS, number(Frequency, 20.0, 500.0, None);
    HighPass = 291 Job "high-pass" label::HIGH_PASS, number(Frequency, 5.0, 200.0, None);
    OutputPolarity = 292 Job "polarity" label::OUTPUT_POLARITY, choice(choices!("normal" label::POLARITY_NORMAL, "turned" label::POLARITY_TURNED), 0);
    FusePlace = 293 Vehicle "fuse place" label::FUSE_PLACE, text(60);
    IdleCurrent = 294 Amplifier "idle current" label::IDLE_CURRENT, number(Current, 0.02, 20.0, None);
    OtherDrivers = 200 Job "other drivers" label::OTHER_DRIVERS, choice(choices!("0" label::NONE, "1" "1", "2" "2", "3" "3", "4" "4", "5" "5", "6" "6", "7" "7"), 0);
    OtherNominal = 201 Job "other nominal" label::OTHER_NOMINAL, number(Resistance, 0.5, 64.0, None);
    OtherRe = 202 Job "other re" label::OTHER_RE, number(Resistance, 0.1, 64.0, None);
    OtherCoils = 203 Job "other coils" label::OTHER_COILS, choice(choices!("1" "1", "2" "2", "4" "4"), 0);
    OutputResistance = 204 Amplifier "output resistance" label::OUTPUT_RESISTANCE, number(Resistance, 0.0, 2.0, None);
    SheetWidth = 370 Job "sheet width" cut::SHEET_WIDTH, number(Length, 0.1, 4.0, entered(1220, 0, Millimetre));
    SheetLength = 371 Job "sheet length" cut::SHEET_LENGTH, number(Length, 0.1, 6.0, entered(2440, 0, Millimetre));
    SheetPrice = 372 Job "sheet price" cut::SHEET_PRICE, number(Ratio, 0.0, 10_000.0, None);
    EdgeTrim = 373 Job "edge trim" cut::EDGE_TRIM, number(Length, 0.0, 0.05, entered(0, 0, Millimetre));
    Grain = 374 Enclosure "grain" cut::GRAIN, choice(choices!("none" cut::GRAIN_NONE, "long" cut::GRAIN_LONG), 0);
    OtherWidth = 375 Job "other sheet width" cut::OTHER_WIDTH, number(Length, 0.1, 4.0, None);
    OtherLength = 376 Job "other sheet length" cut::OTHER_LENGTH, number(Length, 0.1, 6.0, None);
    OtherPrice = 377 Job "other sheet price" cut::OTHER_PRICE, number(Ratio, 0.0, 10_000.0, None);
    OffcutWidth = 378 Job "offcut width" cut::OFFCUT_WIDTH, number(Length, 0.05, 4.0, None);
    OffcutLength = 379 Job "offcut length" cut::OFFCUT_LENGTH, number(Length, 0.05, 6.0, None);
    SecondOffcutWidth = 380 Job "second offcut width" cut::SECOND_OFFCUT_WIDTH, number(Length, 0.05, 4.0, None);
    SecondOffcutLength = 381 Job "second offcut length" cut::SECOND_OFFCUT_LENGTH, number(Length, 0.05, 6.0, None);
    CutTurns = 382 Job "cut turns" cut::TURNS, choice(choices!("any" cut::TURNS_ANY, "three" cut::TURNS_THREE, "two" cut::TURNS_TWO), 0);
    SawReach = 383 Job "saw reach" cut::SAW_REACH, number(Length, 0.1, 2.0, entered(610, 0, Millimetre));
    LeastRide = 384 Job "least ride" cut::LEAST_RIDE, number(Length, 0.05, 0.6, entered(300, 0, Millimetre));
    RouterBit = 385 Job "router bit" cut::ROUTER_BIT, number(Length, 0.003, 0.03, entered(127, 1, Millimetre));
    GuideBush = 386 Job "guide bush" cut::GUIDE_BUSH, number(Length, 0.003, 0.06, None);
    Paper = 387 Job "paper" cut::PAPER, choice(choices!("A4" "A4", "letter" "Letter"), 0);
    DriverWeight = 388 Driver "weight" cut::DRIVER_WEIGHT, number(Mass, 0.05, 60.0, None);
    BoltCircle = 389 Driver "bolt circle" cut::BOLT_CIRCLE, number(Length, 0.05, 0.75, None);
    BoltCount = 390 Driver "bolts" cut::BOLT_COUNT, choice(choices!("4" "4", "5" "5", "6" "6", "8" "8", "10" "10", "12" "12", "16" "16"), 3);
    InsertDiameter = 391 Job "insert" cut::INSERT, number(Length, 0.002, 0.02, None);
    BoardModulus = 392 Enclosure "modulus" cut::MODULUS, number(Ratio, 0.5, 20.0, entered(30, 1, One));
    FillWeight = 393 Enclosure "fill" cut::FILL, number(Ratio, 0.0, 40.0, None);
    FindReach = 350 Job "wish reach" find::REACH, number(Ratio, 0.0, 10.0, entered(5, 0, One));
    FindLevel = 351 Job "wish level" find::LEVEL, number(Ratio, 0.0, 10.0, entered(5, 0, One));
    FindEven = 352 Job "wish even" find::EVEN, number(Ratio, 0.0, 10.0, entered(5, 0, One));
    Construction = 490 Enclosure "construction" rings::CONSTRUCTION, choice(choices!("boards" rings::BOARDS, "rings" rings::RINGS), 0);
    RingShape = 491 Enclosure "ring shape" rings::SHAPE, choice(choices!("rectangle" rings::RECTANGLE, "D" rings::D, "ellipse" rings::ELLIPSE, "polygon" rings::POLYGON, "traced" rings::TRACED), 0);
    RingWidth = 492 Enclosure "ring width" rings::WIDTH, number(Length, 0.1, 2.5, None);
    RingDepth = 493 Enclosure "ring depth" rings::DEPTH, number(Length, 0.1, 2.5, None);
    RingRadius = 494 Enclosure "ring radius" rings::RADIUS, number(Length, 0.0, 1.0, entered(60, 0, Millimetre));
    RingSides = 495 Enclosure "ring sides" rings::SIDES, choice(choices!("3" "3", "4" "4", "5" "5", "6" "6", "8" "8"), 3);
    RingWall = 496 Enclosure "ring wall" rings::WALL, number(Length, 0.012, 0.2, entered(32, 0, Millimetre));
    RingCount = 497 Enclosure "rings" rings::COUNT, number(Ratio, 1.0, 80.0, None);
    RingTopWidth = 498 Enclosure "ring top width" rings::TOP_WIDTH, number(Length, 0.1, 2.5, None);
    RingTopDepth = 499 Enclosure "ring top depth" rings::TOP_DEPTH, number(Length, 0.1, 2.5, None);
    RingFront = 513 Enclosure "ring baffle" rings::FRONT, choice(choices!("1" "1", "2" "2", "3" "3"), 1);
    RingBack = 514 Enclosure "ring bottom" rings::BACK, choice(choices!("1" "1", "2" "2", "3" "3"), 0);
    RingTrace = 515 Enclosure "ring stations" rings::TRACE, text(200);
    RingPins = 516 Enclosure "ring pins" rings::PINS, choice(choices!("0" label::NONE, "3" "3", "4" "4", "6" "6", "8" "8"), 2);
    PinDiameter = 517 Enclosure "pin diameter" rings::PIN, number(Length, 0.003, 0.02, entered(8, 0, Millimetre));
    WrapThickness = 518 Enclosure "wrap" clearance::WRAP, number(Length, 0.0, 0.03, None);
    GasketThickness = 519 Enclosure "gasket" clearance::GASKET, number(Length, 0.0, 0.02, None);
    FlangeThickness = 520 Driver "flange" clearance::FLANGE, number(Length, 0.0, 0.05, None);
    GrilleDepth = 521 Enclosure "grille" clearance::GRILLE, number(Length, 0.0, 0.3, None);
    GrilleThickness = 522 Enclosure "grille thickness" clearance::GRILLE_THICKNESS, number(Length, 0.0, 0.05, entered(2, 0, Millimetre));
    FixingDepth = 523 Enclosure "fixing" clearance::FIXING, number(Length, 0.0, 0.2, None);
    SurroundHeight = 524 Driver "surround" clearance::SURROUND, number(Length, 0.0, 0.1, None);
    MechanicalTravel = 525 Driver "mechanical travel" clearance::TRAVEL, number(Length, 0.0, 0.15, None);
    FreeInFront = 526 Vehicle "free in front" clearance::IN_FRONT, number(Length, 0.0, 3.0, None);
    HollowWater = 527 Vehicle "hollow water" clearance::WATER, number(Ratio, 0.0, 500.0, None);
    AirWarming = 528 Vehicle "air warming" clearance::WARMING, number(Ratio, 1.0, 60.0, None);
    TestBox = 500 Enclosure "test box" testbox::TEST_BOX, choice(choices!("no" testbox::NO, "legs" testbox::YES), 0);
    LegHeight = 501 Enclosure "leg height" testbox::LEGS, number(Length, 0.01, 0.6, None);
    LegWindow = 502 Enclosure "leg window" testbox::WINDOW_WIDTH, number(Length, 0.02, 2.0, None);
    LegCorner = 503 Enclosure "leg corner" testbox::CORNER, number(Length, 0.0, 0.3, entered(30, 0, Millimetre));
    LegRail = 504 Enclosure "leg rail" testbox::RAIL, number(Length, 0.0, 0.3, entered(0, 0, Millimetre));
    InsertTarget = 505 Enclosure "stands in for" testbox::TARGET, number(Volume, 1e-3, 1.0, None);
    AdapterCutOut = 506 Enclosure "smaller cut-out" testbox::SMALL_CUT_OUT, number(Length, 0.05, 0.7, None);
    AdapterOutside = 507 Enclosure "smaller outside" testbox::SMALL_OUTSIDE, number(Length, 0.05, 0.75, None);
    DoorWidth = 510 Vehicle "door width" testbox::DOOR_WIDTH, number(Length, 0.1, 3.0, None);
    DoorHeight = 511 Vehicle "door height" testbox::DOOR_HEIGHT, number(Length, 0.1, 3.0, None);
    DoorGap = 512 Vehicle "door gap" testbox::DOOR_GAP, number(Length, 0.0, 0.2, entered(20, 0, Millimetre));
    FindSmall = 353 Job "wish small" find::SMALL, number(Ratio, 0.0, 10.0, entered(5, 0, One));
    FindTight = 354 Job "wish tight" find::TIGHT, number(Ratio, 0.0, 10.0, entered(5, 0, One));
    FindLow = 355 Job "wish from" find::LOW, number(Frequency, 15.0, 80.0, entered(30, 0, Unit::Hertz));
    FindTop = 356 Job "wish to" find::TOP, number(Frequency, 40.0, 250.0, entered(80, 0, Unit::Hertz));
    SlackCut = 360 Job "slack cut" slack::CUT, number(Length, 0.0, 0.01, entered(8, 1, Millimetre));
    SlackFs = 361 Job "slack fs" slack::FS, number(Percent, 0.0, 0.4, entered(10, 0, Unit::Percent));
    SlackQts = 362 Job "slack Qts" slack::QTS, number(Percent, 0.0, 0.4, entered(10, 0, Unit::Percent));
    SlackVas = 363 Job "slack Vas" slack::VAS, number(Percent, 0.0, 0.5, entered(15, 0, Unit::Percent));
    SlackAir = 364 Job "slack air" slack::AIR, number(Percent, 0.0, 0.3, entered(3, 0, Unit::Percent));
    SlackLosses = 365 Job "slack losses" slack::LOSSES, number(Ratio, 1.0, 5.0, entered(15, 1, One));
    CoilModel = 310 Driver "coil model" acoustics::COIL_MODEL, choice(choices!("plain" acoustics::COIL_PLAIN, "two inductances" acoustics::COIL_TWO, "power" acoustics::COIL_POWER, "semi" acoustics::COIL_SEMI), 0);
    SecondInductance = 311 Driver "L2" acoustics::L2, number(Inductance, 1e-6, 0.05, None);
    SecondResistance = 312 Driver "R2" acoustics::R2, number(Resistance, 0.01, 1e4, None);
    CoilFactor = 313 Driver "k" acoustics::COIL_FACTOR, number(Ratio, 1e-4, 100.0, None);
    CoilExponent = 314 Driver "n" acoustics::COIL_EXPONENT, number(Ratio, 0.5, 1.0, entered(7, 1, One));
    OuterInductance = 315 Driver "Leb" acoustics::LEB, number(Inductance, 0.0, 0.05, entered(0, 0, Unit::Millihenry));
    SemiInductance = 316 Driver "Ke" acoustics::KE, number(Ratio, 1e-4, 100.0, None);
    ShuntResistance = 317 Driver "Rss" acoustics::RSS, number(Resistance, 0.01, 1e4, None);
    ThermalResistance = 319 Driver "thermal resistance" acoustics::THERMAL_RESISTANCE, number(Ratio, 0.01, 50.0, None);
    ThermalTime = 320 Driver "thermal time" acoustics::THERMAL_TIME, number(Ratio, 1.0, 20_000.0, None);
    Stuffing = 321 Enclosure "stuffing" acoustics::STUFFING, number(Percent, 0.0, 0.4, entered(0, 0, Unit::Percent));
    PortEnds = 322 Enclosure "port ends" acoustics::PORT_ENDS, choice(choices!("usual" acoustics::ENDS_USUAL, "flush" acoustics::ENDS_FLUSH, "free" acoustics::ENDS_FREE, "corner" acoustics::ENDS_CORNER, "flared" acoustics::ENDS_FLARED, "flared outside" acoustics::ENDS_FLARED_OUTSIDE), 0);
    FlareRadius = 323 Enclosure "flare" acoustics::FLARE, number(Length, 1e-3, 0.15, entered(15, 0, Millimetre));
    FrontNet = 324 Enclosure "front net" acoustics::FRONT_NET, number(Volume, 2e-3, 1.0, None);
    FrontTuning = 325 Enclosure "front tuning" acoustics::FRONT_TUNING, number(Frequency, 15.0, 300.0, None);
    FrontPortDiameter = 326 Enclosure "front port diameter" acoustics::FRONT_PORT, number(Length, 0.02, 0.4, entered(100, 0, Millimetre));
    FrontPortLength = 327 Enclosure "front port length" acoustics::FRONT_PORT_LENGTH, number(Length, 0.01, 2.5, None);
    FrontPortCount = 328 Enclosure "front ports" acoustics::FRONT_PORTS, choice(choices!("1" "1", "2" "2", "3" "3", "4" "4"), 0);
    RadiatorCount = 329 Enclosure "radiators" acoustics::RADIATORS, choice(choices!("1" "1", "2" "2"), 0);
    RadiatorArea = 330 Enclosure "radiator area" acoustics::RADIATOR_AREA, number(Area, 20e-4, 0.5, None);
    RadiatorMass = 331 Enclosure "radiator mass" acoustics::RADIATOR_MASS, number(Mass, 5e-3, 10.0, None);
    RadiatorResonance = 332 Enclosure "radiator fs" acoustics::RADIATOR_FS, number(Frequency, 3.0, 100.0, None);
    RadiatorQ = 333 Enclosure "radiator Qms" acoustics::RADIATOR_Q, number(Ratio, 0.5, 100.0, entered(8, 0, One));
    RadiatorTravel = 334 Enclosure "radiator travel" acoustics::RADIATOR_XMAX, number(Length, 1e-3, 0.15, None);
    HighSlope = 335 Job "high-pass slope" acoustics::HIGH_SLOPE, choice(SLOPES, 2);
    LowSlope = 337 Job "low-pass slope" acoustics::LOW_SLOPE, choice(SLOPES, 2);
    BandAt = 339 Job "band at" acoustics::BAND_AT, number(Frequency, 10.0, 500.0, entered(40, 0, Unit::Hertz));
    BandGain = 340 Job "band gain" acoustics::BAND_GAIN, number(Ratio, -24.0, 24.0, entered(0, 0, One));
    BandQ = 341 Job "band Q" acoustics::BAND_Q, number(Ratio, 0.1, 20.0, entered(14, 1, One));
    ShelfAt = 342 Job "shelf at" acoustics::SHELF_AT, number(Frequency, 10.0, 500.0, entered(45, 0, Unit::Hertz));
    ShelfGain = 343 Job "shelf gain" acoustics::SHELF_GAIN, number(Ratio, -24.0, 24.0, entered(0, 0, One));
    CabinLength = 344 Vehicle "cabin length" acoustics::CABIN_LENGTH, number(Run, 0.8, 8.0, None);
    CabinCorner = 345 Vehicle "cabin corner" acoustics::CABIN_CORNER, number(Frequency, 20.0, 200.0, None);
    CabinLeak = 346 Vehicle "cabin leak" acoustics::CABIN_LEAK, number(Frequency, 1.0, 60.0, entered(8, 0, Unit::Hertz));
    CabinBody = 347 Vehicle "cabin body" acoustics::CABIN_BODY, choice(choices!("closed" acoustics::BODY_CLOSED, "soft top" acoustics::BODY_SOFT, "window open" acoustics::BODY_OPEN), 0);
    FloorGap = 348 Enclosure "floor gap" acoustics::FLOOR_GAP, number(Length, 2e-3, 0.5, None);
    FloorWindows = 349 Enclosure "floor windows" acoustics::FLOOR_WINDOWS, number(Area, 10e-4, 1.0, None);
    RadiatorCutOut = 560 Enclosure "radiator cut-out" acoustics::RADIATOR_CUT_OUT, number(Length, 0.05, 0.7, None);
    RadiatorOutside = 561 Enclosure "radiator outside" acoustics::RADIATOR_OUTSIDE, number(Length, 0.05, 0.75, None);
    RadiatorDepth = 562 Enclosure "radiator depth" acoustics::RADIATOR_DEPTH, number(Length, 0.01, 0.6, None);
    RadiatorDisplacement = 563 Enclosure "radiator displacement" acoustics::RADIATOR_DISPLACEMENT, number(Volume, 0.0, 0.05, None);
    RadiatorPlace = 564 Enclosure "radiator place" acoustics::RADIATOR_PLACE, choice(choices!("front" acoustics::PLACE_FRONT, "sides" acoustics::PLACE_SIDES), 0);
    RadiatorWeight = 565 Enclosure "radiator weight" acoustics::RADIATOR_WEIGHT, number(Mass, 0.0, 10.0, entered(0, 0, Unit::Gram));
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
    MicrophoneCurve = 590 Job "microphone curve" microphone::HAS_CURVE, text(300);
    MicrophoneFor = 591 Job "microphone for" microphone::COUNTS_FOR, choice(choices!("sweep" microphone::FOR_SWEEPS, "columns" microphone::FOR_FILES, "tones" microphone::FOR_TONES, "all" microphone::FOR_ALL), 0);
    FullScale = 592 Job "full scale" microphone::FULL_SCALE, number(Ratio, 20.0, 200.0, None);
    TrialVolts = 593 Job "trial volts" label::TRIAL_VOLTS, number(Voltage, 0.001, 200.0, None);
    WeightSeats = 594 Job "weight of seats" label::WEIGHT_SEATS, number(Ratio, 0.0, 5.0, entered(0, 0, One));
    WeightHole = 595 Job "weight of hole" label::WEIGHT_HOLE, number(Ratio, 0.0, 5.0, entered(0, 0, One));
    ProofResistor = 597 Job "proof resistor" label::PROOF_RESISTOR, number(Resistance, 0.5, 1000.0, entered(10, 0, Ohm));
    ProofSource = 598 Job "proof source" label::PROOF_SOURCE, number(Voltage, 0.01, 50.0, None);
    ProofTones = 599 Job "proof tones" guided::BOX, text(600);
    ProofDriverTones = 600 Job "proof driver tones" guided::DRIVER, text(600);
    FrontLevels = 596 Job "front levels" fronts::TITLE, text(300);
    SpaceTopDepth = 470 Vehicle "space top depth" shape::SPACE_TOP_DEPTH, number(Length, 0.02, 2.5, None);
    Shape = 471 Enclosure "shape" shape::SHAPE, choice(choices!("rectangle" shape::RECTANGLE, "slanted back" shape::SLANTED_BACK, "slanted front" shape::SLANTED_FRONT, "both slanted" shape::BOTH_SLANTED, "step above" shape::STEP_ABOVE, "step below" shape::STEP_BELOW), 0);
    TopDepth = 472 Enclosure "top depth" shape::TOP_DEPTH, number(Length, 0.02, 2.5, None);
    FrontSetback = 473 Enclosure "front setback" shape::SETBACK, number(Length, 0.0, 1.5, None);
    StepHeight = 474 Enclosure "step height" shape::STEP_HEIGHT, number(Length, 0.03, 2.0, None);
    StepDepth = 475 Enclosure "step depth" shape::STEP_DEPTH, number(Length, 0.05, 2.5, None);
    BackJoint = 476 Enclosure "back joint" shape::JOINT, choice(choices!("over" shape::OVER, "between" shape::BETWEEN), 0);
    @later
    SpaceSide = 660 Vehicle "space side" space::SIDE, text(200);
    SpacePlan = 661 Vehicle "space plan" space::PLAN, text(200);
    FloorDiagonal = 662 Vehicle "floor diagonal" space::FLOOR_DIAGONAL, number(Length, 0.1, 4.0, None);
    FloorOther = 663 Vehicle "other floor diagonal" space::FLOOR_OTHER, number(Length, 0.1, 4.0, None);
    DoorDiagonal = 664 Vehicle "door diagonal" space::DOOR_DIAGONAL, number(Length, 0.1, 4.0, None);
    DoorOther = 665 Vehicle "other door diagonal" space::DOOR_OTHER, number(Length, 0.1, 4.0, None);
    SeatRecline = 666 Vehicle "recline" space::RECLINE, number(Ratio, 0.0, 60.0, None);
    ArchSide = 667 Vehicle "arches" space::ARCHES, choice(choices!("none" label::NONE, "left" space::LEFT, "right" space::RIGHT, "both" space::BOTH), 0);
    ArchShape = 668 Vehicle "arch shape" space::ARCH_SHAPE, choice(choices!("box" space::ARCH_BOX, "rounded" space::ARCH_ROUNDED), 0);
    ArchWidth = 669 Vehicle "arch width" space::ARCH_WIDTH, number(Length, 0.01, 1.0, None);
    ArchHeight = 670 Vehicle "arch height" space::ARCH_HEIGHT, number(Length, 0.01, 1.0, None);
    ArchFrom = 671 Vehicle "arch from" space::ARCH_FROM, number(Length, 0.0, 2.5, entered(0, 0, Millimetre));
    ArchLength = 672 Vehicle "arch length" space::ARCH_LENGTH, number(Length, 0.01, 2.5, None);
    WellUse = 673 Vehicle "well" space::WELL, choice(choices!("none" label::NONE, "keep free" space::WELL_FREE, "reach in" space::WELL_USED), 0);
    WellFrom = 674 Vehicle "well from" space::WELL_FROM, number(Length, 0.0, 2.5, None);
    WellAcross = 675 Vehicle "well across" space::WELL_ACROSS, number(Length, 0.0, 2.5, None);
    WellWidth = 676 Vehicle "well width" space::WELL_WIDTH, number(Length, 0.1, 1.5, None);
    WellDepth = 677 Vehicle "well depth" space::WELL_DEPTH, number(Length, 0.01, 1.0, None);
    LidFrom = 678 Vehicle "lid from" space::LID_FROM, number(Length, 0.0, 2.5, None);
    LidHeight = 679 Vehicle "lid height" space::LID_HEIGHT, number(Length, 0.0, 2.5, None);
    LidReach = 680 Vehicle "lid reach" space::LID_REACH, number(Length, 0.01, 2.5, None);
    LidArm = 681 Vehicle "lid arm" space::LID_ARM, number(Length, 0.005, 1.0, None);
    KeepOut = 682 Vehicle "keep out" space::KEEP_OUT, text(160);
    SecondKeepOut = 683 Vehicle "second keep out" space::KEEP_OUT, text(160);
    ThirdKeepOut = 684 Vehicle "third keep out" space::KEEP_OUT, text(160);
    BoxFromLeft = 685 Vehicle "box from left" space::FROM_LEFT, number(Length, 0.0, 2.5, None);
    BoxFromFront = 686 Vehicle "box from front" space::FROM_FRONT, number(Length, 0.0, 2.5, None);
    AmplifierBodies = 687 Amplifier "bodies" clearance::BODIES, choice(choices!("1" "1", "2" "2", "3" "3", "4" "4"), 0);
    AmplifierLength = 688 Amplifier "length" clearance::BODY_LENGTH, number(Length, 0.03, 1.5, None);
    AmplifierWidth = 689 Amplifier "width" clearance::BODY_WIDTH, number(Length, 0.03, 1.0, None);
    AmplifierHeight = 690 Amplifier "height" clearance::BODY_HEIGHT, number(Length, 0.01, 0.5, None);
    AmplifierPlace = 691 Enclosure "amplifier place" clearance::BODY_PLACE, choice(choices!("elsewhere" clearance::ELSEWHERE, "in the gap" clearance::IN_GAP, "over the box" clearance::OVER_BOX), 0);
    RollWidth = 692 Enclosure "roll width" clearance::ROLL, number(Length, 0.2, 4.0, None);
    SeamAllowance = 693 Enclosure "seam" clearance::SEAM, number(Length, 0.0, 0.1, entered(30, 0, Millimetre));
    FrontPortEnds = 780 Enclosure "front port ends" acoustics::FRONT_PORT_ENDS, choice(choices!("same" acoustics::ENDS_SAME, "usual" acoustics::ENDS_USUAL, "flush" acoustics::ENDS_FLUSH, "free" acoustics::ENDS_FREE, "flared" acoustics::ENDS_FLARED, "flared outside" acoustics::ENDS_FLARED_OUTSIDE), 0);
    FrontFlareRadius = 781 Enclosure "front flare" acoustics::FRONT_FLARE, number(Length, 1e-3, 0.15, entered(15, 0, Millimetre));
    SlotBends = 800 Enclosure "slot bends" acoustics::SLOT_BENDS, choice(choices!("straight" acoustics::SLOT_STRAIGHT, "1" acoustics::SLOT_ONE_BEND, "2" acoustics::SLOT_TWO_BENDS), 0);
    SecondBoard = 820 Enclosure "second board" wood::SECOND, number(Length, 3e-3, 0.06, None);
    SecondDensity = 821 Enclosure "second density" wood::SECOND_DENSITY, number(Density, 200.0, 1500.0, None);
    SecondModulus = 822 Enclosure "second modulus" wood::SECOND_MODULUS, number(Ratio, 0.5, 20.0, None);
    SecondSheetWidth = 823 Job "second board sheet width" wood::SECOND_WIDTH, number(Length, 0.1, 4.0, entered(1220, 0, Millimetre));
    SecondSheetLength = 824 Job "second board sheet length" wood::SECOND_LENGTH, number(Length, 0.1, 6.0, entered(2440, 0, Millimetre));
    SecondSheetPrice = 825 Job "second board sheet price" wood::SECOND_PRICE, number(Ratio, 0.0, 10_000.0, None);
    ThirdBoard = 826 Enclosure "third board" wood::THIRD, number(Length, 3e-3, 0.06, None);
    ThirdDensity = 827 Enclosure "third density" wood::THIRD_DENSITY, number(Density, 200.0, 1500.0, None);
    ThirdModulus = 828 Enclosure "third modulus" wood::THIRD_MODULUS, number(Ratio, 0.5, 20.0, None);
    ThirdSheetWidth = 829 Job "third board sheet width" wood::THIRD_WIDTH, number(Length, 0.1, 4.0, entered(1220, 0, Millimetre));
    ThirdSheetLength = 830 Job "third board sheet length" wood::THIRD_LENGTH, number(Length, 0.1, 6.0, entered(2440, 0, Millimetre));
    ThirdSheetPrice = 831 Job "third board sheet price" wood::THIRD_PRICE, number(Ratio, 0.0, 10_000.0, None);
    FrontFrom = 832 Enclosure "front from" wood::FRONT_FROM, choice(WHICH_BOARD, 0);
    FrontInnerFrom = 833 Enclosure "inner front from" wood::FRONT_INNER_FROM, choice(WHICH_BOARD, 0);
    InsideFrom = 834 Enclosure "inside from" wood::INSIDE_FROM, choice(WHICH_BOARD, 0);
    StripsFrom = 835 Enclosure "strips from" wood::STRIPS_FROM, choice(WHICH_BOARD, 0);
    Joints = 836 Enclosure "joints" wood::JOINTS, choice(choices!("front, top, sides" wood::FRONT_TOP, "front, sides, top" wood::FRONT_SIDES, "top, front, sides" wood::TOP_FRONT, "top, sides, front" wood::TOP_SIDES, "sides, front, top" wood::SIDES_FRONT, "sides, top, front" wood::SIDES_TOP, "front, ring" wood::FRONT_RING, "ring, front" wood::RING_FRONT), 0);
    FrontJoint = 837 Enclosure "front joint" shape::FRONT_JOINT, choice(choices!("over" shape::OVER, "between" shape::BETWEEN), 0);
    OwnAir = 840 Enclosure "own air" label::OWN_AIR, choice(choices!("shared" label::AIR_SHARED, "own" label::AIR_OWN), 0);
    FrontPortShape = 870 Enclosure "front port" acoustics::FRONT_PORT_SHAPE, choice(choices!("round" label::ROUND, "slot" label::SLOT), 0);
    FrontSlotHeight = 871 Enclosure "front slot height" acoustics::FRONT_SLOT_HEIGHT, number(Length, 0.01, 0.3, entered(40, 0, Millimetre));
    EdgeFrontLeft = 872 Enclosure "edge front left" wood::EDGE_FRONT_LEFT, choice(choices!("by order" wood::BY_ORDER, "front" wood::THE_FRONT, "left" wood::THE_LEFT), 0);
    EdgeFrontRight = 873 Enclosure "edge front right" wood::EDGE_FRONT_RIGHT, choice(choices!("by order" wood::BY_ORDER, "front" wood::THE_FRONT, "right" wood::THE_RIGHT), 0);
    EdgeFrontBottom = 874 Enclosure "edge front bottom" wood::EDGE_FRONT_BOTTOM, choice(choices!("by order" wood::BY_ORDER, "front" wood::THE_FRONT, "bottom" wood::THE_BOTTOM), 0);
    EdgeFrontTop = 875 Enclosure "edge front top" wood::EDGE_FRONT_TOP, choice(choices!("by order" wood::BY_ORDER, "front" wood::THE_FRONT, "top" wood::THE_TOP), 0);
    EdgeBackLeft = 876 Enclosure "edge back left" wood::EDGE_BACK_LEFT, choice(choices!("by order" wood::BY_ORDER, "back" wood::THE_BACK, "left" wood::THE_LEFT), 0);
    EdgeBackRight = 877 Enclosure "edge back right" wood::EDGE_BACK_RIGHT, choice(choices!("by order" wood::BY_ORDER, "back" wood::THE_BACK, "right" wood::THE_RIGHT), 0);
    EdgeBackBottom = 878 Enclosure "edge back bottom" wood::EDGE_BACK_BOTTOM, choice(choices!("by order" wood::BY_ORDER, "back" wood::THE_BACK, "bottom" wood::THE_BOTTOM), 0);
    EdgeBackTop = 879 Enclosure "edge back top" wood::EDGE_BACK_TOP, choice(choices!("by order" wood::BY_ORDER, "back" wood::THE_BACK, "top" wood::THE_TOP), 0);
    EdgeLeftBottom = 880 Enclosure "edge left bottom" wood::EDGE_LEFT_BOTTOM, choice(choices!("by order" wood::BY_ORDER, "left" wood::THE_LEFT, "bottom" wood::THE_BOTTOM), 0);
    EdgeLeftTop = 881 Enclosure "edge left top" wood::EDGE_LEFT_TOP, choice(choices!("by order" wood::BY_ORDER, "left" wood::THE_LEFT, "top" wood::THE_TOP), 0);
    EdgeRightBottom = 882 Enclosure "edge right bottom" wood::EDGE_RIGHT_BOTTOM, choice(choices!("by order" wood::BY_ORDER, "right" wood::THE_RIGHT, "bottom" wood::THE_BOTTOM), 0);
    EdgeRightTop = 883 Enclosure "edge right top" wood::EDGE_RIGHT_TOP, choice(choices!("by order" wood::BY_ORDER, "right" wood::THE_RIGHT, "top" wood::THE_TOP), 0);
    Look = 900 Enclosure "look" space::LOOK, choice(choices!("along" space::LOOK_ALONG, "up" space::LOOK_UP, "down" space::LOOK_DOWN, "aside" space::LOOK_ASIDE), 0);
    DriverFace = 901 Enclosure "driver face" faces::DRIVER_FACE, choice(choices!("none" faces::FRONT_ONLY, "back" faces::BACK, "sides" faces::SIDES, "left" faces::LEFT, "right" faces::RIGHT, "top" faces::TOP, "bottom" faces::BOTTOM, "top and bottom" faces::TOP_BOTTOM), 0);
    DriverFaceCount = 902 Enclosure "driver face count" faces::DRIVER_COUNT, choice(choices!("all" faces::ALL, "half" faces::HALF, "1" "1", "2" "2", "3" "3", "4" "4", "5" "5", "6" "6", "7" "7"), 0);
    TerminalFace = 903 Enclosure "terminal face" faces::TERMINAL_FACE, choice(choices!("back" faces::BACK, "front" faces::FRONT, "left" faces::LEFT, "right" faces::RIGHT, "top" faces::TOP, "bottom" faces::BOTTOM), 0);
    TerminalWindow = 904 Enclosure "terminal window" faces::TERMINAL_WINDOW, number(Length, 0.0, 0.1, None);
    LooseBoard = 905 Enclosure "loose board" faces::LOOSE, choice(choices!("none" label::NONE, "back" faces::BACK, "left" faces::LEFT, "right" faces::RIGHT, "top" faces::TOP, "bottom" faces::BOTTOM), 0);
    Batten = 906 Enclosure "batten" faces::BATTEN, number(Length, 0.0, 0.1, entered(20, 0, Millimetre));
    StripFrontLeft = 940 Enclosure "strip front left" wood::STRIP_FRONT_LEFT, choice(TICKED, 0);
    StripFrontRight = 941 Enclosure "strip front right" wood::STRIP_FRONT_RIGHT, choice(TICKED, 0);
    StripFrontBottom = 942 Enclosure "strip front bottom" wood::STRIP_FRONT_BOTTOM, choice(TICKED, 0);
    StripFrontTop = 943 Enclosure "strip front top" wood::STRIP_FRONT_TOP, choice(TICKED, 0);
    StripBackLeft = 944 Enclosure "strip back left" wood::STRIP_BACK_LEFT, choice(TICKED, 0);
    StripBackRight = 945 Enclosure "strip back right" wood::STRIP_BACK_RIGHT, choice(TICKED, 0);
    StripBackBottom = 946 Enclosure "strip back bottom" wood::STRIP_BACK_BOTTOM, choice(TICKED, 0);
    StripBackTop = 947 Enclosure "strip back top" wood::STRIP_BACK_TOP, choice(TICKED, 0);
    StripLeftBottom = 948 Enclosure "strip left bottom" wood::STRIP_LEFT_BOTTOM, choice(TICKED, 0);
    StripLeftTop = 949 Enclosure "strip left top" wood::STRIP_LEFT_TOP, choice(TICKED, 0);
    StripRightBottom = 950 Enclosure "strip right bottom" wood::STRIP_RIGHT_BOTTOM, choice(TICKED, 0);
    StripRightTop = 951 Enclosure "strip right top" wood::STRIP_RIGHT_TOP, choice(TICKED, 0);
}

impl FieldId {
    /// The field's row.
    #[must_use]
    pub fn row(self) -> &'static FieldRow {
        match ROWS.get(self as usize) {
            Some(row) => row,
            None => later_row(self as usize - ROWS.len()),
        }
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

#[inline(never)]
fn later_row(number: usize) -> &'static FieldRow {
    &LATER[number]
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
