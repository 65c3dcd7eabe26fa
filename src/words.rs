//! Every word on screen, in one table. Nothing here computes; nothing elsewhere holds a sentence.

/// Names of fields, choices and figures.
#[allow(missing_docs)]
pub mod label {
    pub const DESIGN_NAME: &str = "Name of the job";
    pub const DRIVER_NAME: &str = "Driver";
    pub const FS: &str = "Resonance, fs";
    pub const RE: &str = "DC resistance of one coil, Re";
    pub const COILS: &str = "Voice coils";
    pub const SHEET_CONNECTION: &str = "Data measured with";
    pub const ONE_COIL: &str = "one coil, others open";
    pub const SERIES: &str = "coils in series";
    pub const PARALLEL: &str = "coils in parallel";
    pub const QES: &str = "Electrical Q, Qes";
    pub const QMS: &str = "Mechanical Q, Qms";
    pub const QTS: &str = "Total Q, Qts";
    pub const VAS: &str = "Compliance volume, Vas";
    pub const SD: &str = "Piston area, Sd";
    pub const XMAX: &str = "Travel one way, Xmax";
    pub const LE: &str = "Inductance, Le";
    pub const THERMAL_POWER: &str = "Continuous power, all coils";
    pub const MMS: &str = "Moving mass, Mms";
    pub const CMS: &str = "Compliance, Cms";
    pub const BL: &str = "Force factor, Bl";
    pub const NOMINAL_COIL: &str = "Nominal impedance of one coil";
    pub const CUT_OUT: &str = "Cut-out diameter";
    pub const OUTSIDE_DIAMETER: &str = "Outside diameter";
    pub const MOUNTING_DEPTH: &str = "Depth behind the flange";
    pub const MAGNET_DIAMETER: &str = "Magnet diameter";
    pub const DRIVER_DISPLACEMENT: &str = "Volume behind the flange";
    pub const POLE_VENT: &str = "Pole vent diameter";

    pub const AMPLIFIER_NAME: &str = "Amplifier";
    pub const WATTS_4: &str = "Rated power into 4 Ω";
    pub const WATTS_2: &str = "Rated power into 2 Ω";
    pub const WATTS_1: &str = "Rated power into 1 Ω";
    pub const RATED_SUPPLY: &str = "Rated at";
    pub const STABLE_LOAD: &str = "Stable down to";
    pub const EFFICIENCY: &str = "Efficiency at full power";

    pub const VEHICLE_NAME: &str = "Vehicle";
    pub const SPACE_WIDTH: &str = "Free width";
    pub const SPACE_HEIGHT: &str = "Free height";
    pub const SPACE_DEPTH: &str = "Free depth";
    pub const CLEARANCE: &str = "Air to keep at each face";
    pub const CABLE_RUN: &str = "Cable run, one way";
    pub const AMBIENT: &str = "Warmest place on the run";
    pub const SUPPLY: &str = "Supply, engine running";
    pub const CABLE_MATERIAL: &str = "Conductor";
    pub const COPPER: &str = "copper";
    pub const CCA: &str = "copper-clad aluminium";
    pub const INSULATION: &str = "Insulation rated for";
    pub const INSULATION_60: &str = "60 °C";
    pub const INSULATION_75: &str = "75 °C";
    pub const INSULATION_90: &str = "90 °C";
    pub const INSULATION_105: &str = "105 °C";
    pub const DROP_LIMIT: &str = "Voltage drop allowed";
    pub const SPEAKER_RUN: &str = "Speaker cable, one way";
    pub const SPEAKER_CABLE: &str = "Speaker cable size";
    pub const AIR_TEMPERATURE: &str = "Air in the box";

    pub const ENCLOSURE_NAME: &str = "Box";
    pub const BOX_KIND: &str = "Type";
    pub const CLOSED: &str = "closed";
    pub const VENTED: &str = "vented";
    pub const INFINITE_BAFFLE: &str = "infinite baffle";
    pub const PASSIVE_RADIATOR: &str = "passive radiator";
    pub const BANDPASS_4: &str = "band-pass, rear closed";
    pub const BANDPASS_6_OUTWARD: &str = "band-pass, both vented outward";
    pub const BANDPASS_6_INWARD: &str = "band-pass, rear vented into front";
    pub const PUSH_PULL: &str = "push-pull pair, closed";
    pub const DRIVER_COUNT: &str = "Drivers in the box";
    pub const WANTED_NET: &str = "Wanted net volume";
    pub const WANTED_TUNING: &str = "Wanted tuning";
    pub const WANTED_QTC: &str = "Wanted Qtc";
    pub const BOX_WIDTH: &str = "Outside width";
    pub const BOX_HEIGHT: &str = "Outside height";
    pub const BOX_DEPTH: &str = "Outside depth";
    pub const BOARD: &str = "Board, by calipers";
    pub const FRONT_LAYERS: &str = "Front baffle";
    pub const SINGLE: &str = "single";
    pub const DOUBLE: &str = "double";
    pub const RECESS: &str = "Driver flange";
    pub const FLUSH: &str = "flush";
    pub const ON_TOP: &str = "on top";
    pub const RECESS_GAP: &str = "Recess wider than flange by";
    pub const STRIPS: &str = "Corner strips, 45°";
    pub const NONE: &str = "none";
    pub const STRIPS_FOUR: &str = "four upright";
    pub const STRIPS_ALL: &str = "all twelve edges";
    pub const STRIPS_OWN: &str = "edges of your own";
    pub const STRIP_FACE: &str = "Strip face";
    pub const STRIP_MEASURED: &str = "Face measured";
    pub const WIDE_FACE: &str = "wide, to the air";
    pub const NARROW_FACE: &str = "narrow, hidden";
    pub const STRIP_VOID: &str = "Hollow behind a strip";
    pub const SEALED: &str = "sealed off";
    pub const OPEN: &str = "left open";
    pub const PORT_SHAPE: &str = "Port";
    pub const ROUND: &str = "round";
    pub const SLOT: &str = "slot on the floor";
    pub const PORT_DIAMETER: &str = "Port inside diameter";
    pub const PORT_WALL: &str = "Tube wall";
    pub const PORT_COUNT: &str = "Ports";
    pub const SLOT_HEIGHT: &str = "Slot height";
    pub const PORT_LENGTH: &str = "Port length with baffle";
    pub const TERMINAL_WIDTH: &str = "Terminal hole width";
    pub const TERMINAL_HEIGHT: &str = "Terminal hole height";
    pub const TERMINAL_DEPTH: &str = "Terminal cup depth";
    pub const BRACES: &str = "Window braces";
    pub const BRACE_RIM: &str = "Brace rim";
    pub const OWN_AIR: &str = "Air of two halves";
    pub const AIR_SHARED: &str = "shared";
    pub const AIR_OWN: &str = "parted by a board";
    pub const TAPE_STEP: &str = "Cut to the nearest";
    pub const KERF: &str = "Blade kerf";
    pub const BOARD_DENSITY: &str = "Board density";
    pub const LEAKAGE: &str = "Leakage, QL";
    pub const ABSORPTION: &str = "Absorption, QA";
    pub const PORT_LOSS: &str = "Port loss, QP";

    pub const DRIVE_BY: &str = "Drive given as";
    pub const DRIVE_POWER: &str = "power";
    pub const DRIVE_VOLTS: &str = "voltage";
    pub const ALTITUDE: &str = "Altitude";
    pub const WIRING: &str = "Coil wiring";
    pub const METER_PERCENT: &str = "Meter accuracy";
    pub const METER_COUNTS: &str = "Meter accuracy, counts";
    pub const METER_STEP: &str = "Meter's last digit";
    pub const METER_LEADS: &str = "Leads shorted read";
    pub const COIL_TOLERANCE: &str = "Coil tolerance";
    pub const READ_AT: &str = "Reading taken at";
    pub const AT_AMPLIFIER: &str = "amplifier end";
    pub const AT_BOX: &str = "box terminals";
    pub const MUSIC_SHARE: &str = "Share of full power in use";

    pub const CABIN_CANCELLING: &str = "Factory noise cancelling in the cabin";
    pub const CANCELLING_UNASKED: &str = "not asked yet";
    pub const CANCELLING_NONE: &str = "none in this vehicle";
    pub const CANCELLING_OFF: &str = "switched off";
    pub const CANCELLING_ON: &str = "still working";
    pub const TRIAL_METER: &str = "Meter set to weighting";
    pub const TRIAL_METER_Z: &str = "Z, flat";
    pub const TEST_BOX_VOLUME: &str = "Closed test box, net";
    pub const TEST_BOX_DESIGN: &str = "Test box is the design";
    pub const TRIAL_LOW: &str = "Compare from";
    pub const TRIAL_HIGH: &str = "Compare to";
    pub const PROOF_FS: &str = "Driver by itself, peak";
    pub const PROOF_LOW: &str = "In the box, lower peak";
    pub const PROOF_DIP: &str = "In the box, dip between";
    pub const PROOF_HIGH: &str = "In the box, upper peak";
    pub const PROOF_FC: &str = "Box without port, or port shut: peak";
    pub const PROOF_STEP: &str = "Found to the nearest";
    pub const PROOF_RESISTOR: &str = "Resistor in series";
    pub const PROOF_SOURCE: &str = "Generator, at its own terminals";
    pub const TRIAL_VOLTS: &str = "Voltage at the test box";
    pub const WEIGHT_SEATS: &str = "dB lost per dB of seats";
    pub const WEIGHT_HOLE: &str = "dB lost per dB of hole";
    pub const INSULATION_UNKNOWN: &str = "not known";
    pub const INSULATION_80: &str = "80 °C";
    pub const INSULATION_125: &str = "125 °C";
    pub const INSULATION_200: &str = "200 °C";
    pub const NOT_STATED: &str = "not stated";
    pub const ALLOWED: &str = "allowed by the maker";
    pub const OUTPUT_USE: &str = "Load is driven by";
    pub const ONE_CHANNEL: &str = "one channel";
    pub const BRIDGED: &str = "two channels, bridged";
    pub const STRAPPED: &str = "two amplifiers, strapped";
    pub const CHANNELS: &str = "Channels";
    pub const BRIDGED_LOAD: &str = "Least load so joined";
    pub const BRIDGED_WATTS: &str = "Rated power so joined, into it";
    pub const STRAP_ALLOWED: &str = "Strapping two of them";
    pub const AMPLIFIER_CLASS: &str = "Class";
    pub const CLASS_GH: &str = "G or H";
    pub const SUPPLY_KIND: &str = "With the supply, power";
    pub const RAILS_FOLLOW: &str = "rises and falls";
    pub const RAILS_REGULATED: &str = "stays (regulated)";
    pub const AMPLIFIER_FUSE: &str = "Fuses fitted, sum";
    pub const RATING_BASIS: &str = "Rated by";
    pub const OTHER_SUPPLY: &str = "Also rated at";
    pub const OTHER_WATTS_4: &str = "There into 4 Ω";
    pub const OTHER_WATTS_2: &str = "There into 2 Ω";
    pub const OTHER_WATTS_1: &str = "There into 1 Ω";
    pub const OTHER_DRAW: &str = "Another amplifier on this feed";
    pub const OTHER_RUN: &str = "its cable from there, if not as long";
    pub const SECOND_OTHER_DRAW: &str = "A second one";
    pub const THIRD_OTHER_DRAW: &str = "A third one";
    pub const BRANCH_RUN: &str = "Distribution to amplifier";
    pub const BRANCH_AMBIENT: &str = "Warmest place there";
    pub const BRANCH_INSULATION: &str = "its insulation";
    pub const OTHER_AMBIENT: &str = "its warmest place, if another";
    pub const AS_MAIN: &str = "as the main cable";
    pub const RETURN_VIA: &str = "Current comes back by";
    pub const RETURN_CABLE: &str = "a cable like it";
    pub const RETURN_BODY: &str = "the vehicle's body";
    pub const BODY_MILLIOHM: &str = "Body and joints, mΩ";
    pub const GAUGE_KIND: &str = "Gauge numbers are";
    pub const GAUGE_AWG: &str = "AWG";
    pub const GAUGE_SAE: &str = "SAE vehicle cable";
    pub const FUSE_DISTANCE: &str = "Battery to fuse, along the cable";
    pub const BATTERY_KIND: &str = "Battery";
    pub const FLOODED: &str = "lead-acid, wet";
    pub const AGM: &str = "lead-acid, AGM or gel";
    pub const LITHIUM: &str = "lithium iron phosphate";
    pub const BATTERY_CAPACITY: &str = "Capacity, Ah";
    pub const BATTERY_MILLIOHM: &str = "Internal resistance, mΩ";
    pub const REST_VOLTS: &str = "Read after 8 h of rest";
    pub const RESERVE: &str = "Keep for starting";
    pub const EXISTING_LOAD: &str = "Vehicle's own load, running";
    pub const DRAIN: &str = "Drain, everything asleep, mA";
    pub const ALTERNATOR: &str = "Alternator or converter, rated";
    pub const IDLE_SHARE: &str = "Of that at hot idle";
    pub const CHARGING: &str = "Charged by";
    pub const CHARGE_PLAIN: &str = "plain alternator";
    pub const CHARGE_SENSOR: &str = "alternator, sensor at the battery";
    pub const CHARGE_SMART: &str = "alternator, voltage varies";
    pub const CHARGE_CONVERTER: &str = "converter (hybrid, electric)";
    pub const SECOND_BATTERY: &str = "Second battery";
    pub const SECOND_ISOLATOR: &str = "through an isolator";
    pub const SECOND_CHARGER: &str = "through a charger";
    pub const SECOND_RUN: &str = "Battery to battery, one way";
    pub const SECOND_CAPACITY: &str = "Its capacity, Ah";
    pub const CHARGER_CURRENT: &str = "Charger gives";
    pub const ALTERNATOR_RUN: &str = "New charge cable, one way";
    pub const ENGINE_AMBIENT: &str = "Warmest place at the engine";
    pub const CAP_FARADS: &str = "Capacitor, F";
    pub const CAP_MILLIOHM: &str = "Its resistance, mΩ";
    pub const CAP_SAG: &str = "Sag it may let through";
    pub const PROOF_SIZE: &str = "Sold as";
    pub const PROOF_LENGTH: &str = "Stripped piece, length";
    pub const PROOF_MASS: &str = "Its mass, bare";
    pub const PROOF_CURRENT: &str = "Current through the cable";
    pub const PROOF_MILLIVOLTS: &str = "Over one metre of it, mV";
    pub const TEST_CURRENT: &str = "Current while you measure";
    pub const GAIN_POWER: &str = "Power to set the gain for";
    pub const FUSE_BREAKING: &str = "Main fuse, stated to break";
    pub const PARKED_LOAD: &str = "Vehicle's own load, engine off";
    pub const LOW_PASS: &str = "Low-pass set to";
    pub const HIGH_PASS: &str = "High-pass set to";
    pub const OUTPUT_POLARITY: &str = "Polarity at the amplifier";
    pub const POLARITY_NORMAL: &str = "as marked";
    pub const POLARITY_TURNED: &str = "turned over";
    pub const FUSE_PLACE: &str = "Where the main fuse sits";
    pub const IDLE_CURRENT: &str = "Idle current by the maker";
    pub const OTHER_DRIVERS: &str = "Of these, of a second kind";
    pub const OTHER_NOMINAL: &str = "Second kind, nominal impedance of one coil";
    pub const OTHER_RE: &str = "Second kind, DC resistance of one coil";
    pub const OTHER_COILS: &str = "Second kind, voice coils";
    pub const OUTPUT_RESISTANCE: &str = "Output resistance";
}

/// The application and its places.
#[allow(missing_docs)]
pub mod app {
    pub const NAME: &str = "Kerf & Coil";
    pub const DESK: &str = "Desk";
    pub const SAW: &str = "Saw";
    pub const CAR: &str = "Car";
    pub const DESIGN: &str = "design";
    pub const SHEET: &str = "sheet";
    pub const UNIT: &str = "unit";
    pub const UNNAMED: &str = "Unnamed job";
    pub const UNDO: &str = "Undo";
    pub const REDO: &str = "Redo";
    pub const CLOSE: &str = "Close";
    pub const PLACES: &str = "Places";
    pub const NEW_VERSION: &str =
        "A newer version of this page is here. Nothing you entered is lost by taking it.";
    pub const TAKE_VERSION: &str = "Take it and reload";
    pub const EMPTY: &str = "enter";
    pub const REST: &str = "more";
    pub const SKIP: &str = "Skip to the sheet";
}

/// Names of figures, curves, parts and rows.
#[allow(missing_docs)]
pub mod name {
    pub const NET: &str = "net volume";
    pub const FC: &str = "fc, closed box";
    pub const FB: &str = "fb, tuning";
    pub const QTC: &str = "Qtc";
    pub const F3: &str = "−3 dB, half space";
    pub const F10: &str = "−10 dB, half space";
    pub const TRAVEL: &str = "largest travel";
    pub const PORT_SPEED: &str = "fastest port air";
    pub const LEAST_Z: &str = "least impedance";
    pub const DRIVE: &str = "drive";
    pub const LOUDEST: &str = "loudest";

    pub const LEVEL: &str = "level";
    pub const CONE: &str = "cone travel, peak";
    pub const AIR: &str = "port air, peak";
    pub const IMPEDANCE: &str = "impedance";
    pub const PHASE: &str = "impedance phase";
    pub const DELAY: &str = "group delay";
    pub const CHART_LEVEL: &str = "Level at 1 m, half space";
    pub const CHART_CONE: &str = "Cone travel, one way";
    pub const CHART_AIR: &str = "Air speed in the port";
    pub const CHART_IMPEDANCE: &str = "Impedance at the amplifier's cable";
    pub const CHART_DELAY: &str = "Group delay";
    pub const CURSOR: &str = "Read the curves at";
    pub const AS_TABLE: &str = "Curves as a table";
    pub const DOWNLOAD_CSV: &str = "Save the table (CSV)";
    pub const FREQUENCY: &str = "Hz";

    pub const GROSS: &str = "inside, empty";
    pub const DRIVERS: &str = "driver";
    pub const DRIVER_HOLES: &str = "air in the driver's hole";
    pub const RADIATORS: &str = "passive radiator";
    pub const RADIATOR_HOLES: &str = "air in the radiator's hole";
    pub const CORNER_STRIPS: &str = "corner strips";
    pub const STRIP_CORNERS: &str = "where strips meet";
    pub const STRIP_VOIDS: &str = "hollows behind strips";
    pub const PORT_AIR: &str = "air in the port";
    pub const PORT_WALLS: &str = "port walls";
    pub const BRACES: &str = "braces";
    pub const BRACED_STRIPS: &str = "brace wood inside strips";
    pub const TERMINAL_HOLE: &str = "air in the terminal hole";
    pub const TERMINAL_CUP: &str = "terminal cup";
    pub const NET_USED: &str = "net, as the curves use it";
    pub const NET_BEHIND: &str = "net behind the drivers";
    pub const NET_BEFORE: &str = "net before the drivers";

    pub const FRONT: &str = "front";
    pub const BACK: &str = "back";
    pub const TOP_BOTTOM: &str = "top, bottom";
    pub const LEFT: &str = "left";
    pub const RIGHT: &str = "right";
    pub const TOP: &str = "top";
    pub const BOTTOM: &str = "bottom";
    pub const OUTER_LAYER: &str = "outer layer";
    pub const INNER_LAYER: &str = "inner layer";
    pub const SIDE: &str = "side";
    pub const PORT_ROOF: &str = "port roof";
    pub const PORT_RISER: &str = "port upright";
    pub const PORT_CEILING: &str = "upper port board";
    pub const FRONT_ROOF: &str = "port roof before the drivers";
    /// One of several alike.
    pub fn numbered(kind: &str, number: usize) -> String {
        format!("{kind} {number}")
    }
    pub const TREAD: &str = "step board";
    pub const RISER: &str = "step riser";
    pub const PORT_WALL: &str = "port wall";
    pub const BRACE: &str = "brace";
    pub const CORNER_STRIP: &str = "corner strip";
    pub const PORT_TUBE: &str = "port tube";
    pub const DIVIDER: &str = "divider";
    pub const FRONT_TUBE: &str = "front chamber's tube";
    pub const WIDTH: &str = "width";
    pub const HEIGHT: &str = "height";
    pub const DEPTH: &str = "depth";
    pub const FACE: &str = "face";
}

/// Sentences. Values come in ready to show.
#[allow(missing_docs)]
pub mod say {
    pub const WIRING_UNREAD: &str =
        "The wiring stored with this design does not fit these coils. Choose one again.";
    pub const NO_CABLE: &str = "No cable of the list carries this current over this run within the drop allowed and \
        with a fuse that protects it. Shorten the run, move the amplifier, or allow more drop.";
    pub const CCA_NO_TABLE: &str = "Copper-clad aluminium has 1.6 times the resistance of copper and is in no ampacity \
        table. Its drop is shown, but no size and no fuse is recommended. Use stranded copper.";
    pub const POWER_NOT_RATED: &str = "The maker does not rate the amplifier at this load. The power is a range between \
        voltage-limited and current-limited; cable and fuse are chosen for its upper end.";
    pub const CAUSE_RESISTANCE: &str =
        "It would fit if Re were that of the coils as measured, not of one coil.";
    pub const CAUSE_XMAX: &str = "It would fit if Xmax were given peak to peak.";
    pub const CAUSE_VD: &str = "It would fit if Vd were given peak to peak.";
    pub const CUTOUT_OVER_STRIP: &str =
        "Through the driver's hole part of a corner strip shows: move the driver or shorten the strip.";

    pub const LINE_DESK_WAITING: &str = "Enter the driver's data sheet to see what a box does with it.";
    pub const LINE_DESK_REFUSED: &str = "What is entered does not go together: see below.";
    pub fn line_desk_missing(what: &str) -> String {
        format!("Enter what is missing to see what this box does: {what}.")
    }
    pub const LINE_SAW_WAITING: &str = "Driver sizes and the free space are needed before anything is cut.";
    pub fn line_saw_missing(what: &str) -> String {
        format!("Enter what is missing to see what to cut: {what}.")
    }
    pub const LINE_SAW_REFUSED: &str = "What is entered does not go together as a box: see below.";
    pub const LINE_CAR_WAITING: &str =
        "Enter a coil's DC resistance, or use a quick check: it needs no design.";

    pub fn line_desk(
        kind: &str,
        net: &str,
        f3: Option<&str>,
        drive: &str,
        travel: &str,
        limit: Option<&str>,
    ) -> String {
        let reach = f3.map_or_else(|| "no −3 dB point".into(), |f3| format!("−3 dB at {f3} Hz"));
        let travel = match limit {
            Some(limit) => format!("moves the cone {travel} of {limit} mm"),
            None => format!("moves the cone {travel} mm"),
        };
        let net = if net.is_empty() { String::new() } else { format!(", {net} net") };
        format!("{kind}{net}: {reach}; {drive} {travel}.")
    }
    pub fn line_saw(parts: usize, settings: usize, mass: &str, net: &str) -> String {
        let net = if net.is_empty() { String::new() } else { format!("; {net} net") };
        format!("{parts} pieces, {settings} fence settings, {mass} kg of board{net}.")
    }
    pub fn two_rooms(behind: &str, before: &str) -> String {
        format!("{behind} behind the drivers, {before} before them,")
    }
    pub fn line_saw_stop(count: usize) -> String {
        if count == 1 {
            "Not yet: one thing does not fit.".into()
        } else {
            format!("Not yet: {count} things do not fit.")
        }
    }
    pub fn line_car_expect(low: &str, high: &str, place: &str) -> String {
        format!("Nothing read yet. With the amplifier unplugged, expect {low} to {high} Ω at the {place}.")
    }
    pub fn line_car_good(read: &str) -> String {
        format!("{read} reads as drawn. Go on with the order of work.")
    }
    pub fn line_car_overruled(read: &str, reason: &str) -> String {
        format!("{read} does not read as drawn; you overruled it: {reason}")
    }
    pub fn least_load(least: &str, at: &str, allowed: &str) -> String {
        format!(
            "In this box the load falls to {least} Ω at {at} Hz; the amplifier's rating allows for {allowed} Ω. Wire the coils to a higher load, or check their DC resistance."
        )
    }
    pub fn unequal_power(most: &str, most_share: &str, least: &str, least_share: &str) -> String {
        format!(
            "The coils share unequally: coil {most} takes {most_share} % of the power, coil {least} {least_share} %. The one that takes most sets the limit."
        )
    }
    pub fn line_car_stop(read: &str, why: &str) -> String {
        format!("Not yet: {read}. {why}")
    }
    pub fn travel(travel: &str, at: &str, limit: &str, safe_above: Option<&str>, filtered: bool) -> String {
        let filter = if filtered { "raise the high-pass" } else { "add a high-pass" };
        let advice = match safe_above {
            Some(hz) => format!("Above {hz} Hz it stays within; below, {filter} or drive it less."),
            None => "Drive it less.".into(),
        };
        format!("The cone travels {travel} mm at {at} Hz, the driver is good for {limit} mm. {advice}")
    }
    pub fn port_speed(velocity: &str, at: &str) -> String {
        format!(
            "The air in the port reaches {velocity} m/s at {at} Hz; above about 17 m/s it is heard. Make the port larger, or drive it less."
        )
    }
    pub fn coil_power(power: &str, limit: &str) -> String {
        format!("Driven with {power}; the coils stand {limit} continuously.")
    }
    pub fn beyond_amplifier(power: &str, limit: &str) -> String {
        format!(
            "The curves are for {power}; the amplifier gives about {limit} into this load and clips above."
        )
    }
    pub fn amplifier_power(power: &str, limit: &str) -> String {
        format!(
            "The amplifier can give {power} at this load, the coils stand {limit} continuously. Set the gain for the lower of the two."
        )
    }
    pub fn load_too_low(load: &str, least: &str) -> String {
        format!(
            "This wiring loads the amplifier with {load} Ω; it is stable down to {least} Ω. Wire the coils otherwise."
        )
    }
    pub fn too_large(wanted: &str, largest: &str) -> String {
        format!("{wanted} net do not go into the space; the largest box has {largest}, and that is drawn.")
    }
    pub fn askew(short: &str, other: &str, dimension: &str, by: &str) -> String {
        format!(
            "The piece {short} is now {by} short of the piece {other} in {dimension}: the box would stand askew. Cut both alike before gluing."
        )
    }
    pub fn tuning_missed(tuning: &str, wanted: &str) -> String {
        format!("The port as cut tunes the box to {tuning} Hz, not {wanted} Hz.")
    }
    pub fn contradiction(parameter: &str, printed: &str, low: &str, high: &str, cause: &str) -> String {
        let range = if low == high { format!("about {low}") } else { format!("{low} to {high}") };
        let text =
            format!("{parameter} is printed as {printed}; the other values give {range}, and they win.");
        if cause.is_empty() { text } else { format!("{text} {cause}") }
    }
    pub fn cause_measured(connection: &str) -> String {
        format!("It would fit if the data were measured with {connection}.")
    }
    pub fn cause_other_connection(quadrupled: bool) -> String {
        let (re, bl) = if quadrupled { ("parallel", "series") } else { ("series", "parallel") };
        format!("It would fit if Re were for the coils in {re} and Bl for the coils in {bl}.")
    }
    pub fn cause_unit(parameter: &str, factor: &str) -> String {
        format!("It would fit if {parameter} were in another unit ({factor}).")
    }
    pub fn magnet_to_back(gap: &str) -> String {
        format!("The driver's rear and the back are {gap} apart: it does not fit. Make the box deeper.")
    }
    pub fn magnet_to_side(gap: &str) -> String {
        format!("The driver's rear and the side are {gap} apart: it does not fit. Make the box wider.")
    }
    pub fn radiator_to_edge(gap: &str, wanted: &str) -> String {
        format!("The passive radiator's flange is {gap} from the edge of its board; screws want {wanted}.")
    }
    pub fn radiator_to_flange(gap: &str) -> String {
        format!("The passive radiator's flange is {gap} from the next one.")
    }
    pub fn radiator_to_wall(gap: &str) -> String {
        format!("The passive radiator's hole is {gap} from a wall inside: it runs into the wall's edge.")
    }
    pub fn radiator_behind(gap: &str) -> String {
        format!("The passive radiator's rear is {gap} from what is opposite: it does not fit.")
    }
    pub fn pole_vent(gap: &str, wanted: &str) -> String {
        format!("Behind the pole vent {gap} are left; it wants {wanted} to breathe.")
    }
    pub fn port_to_back(gap: &str, wanted: &str) -> String {
        format!("From the port's inner end to the board opposite {gap} are left; it wants {wanted}.")
    }
    pub fn flange_to_edge(gap: &str, wanted: &str) -> String {
        format!("The driver's flange is {gap} from the edge of its board; screws want {wanted}.")
    }
    pub fn flange_to_flange(gap: &str) -> String {
        format!("The drivers' flanges are {gap} apart.")
    }
    pub fn flange_to_port(gap: &str) -> String {
        format!("The driver's flange is {gap} from the port.")
    }
    pub fn cutout_to_wall(gap: &str) -> String {
        format!("The driver's hole is {gap} from a wall inside: it runs into the wall's edge.")
    }
    pub fn tube_to_wall(gap: &str) -> String {
        format!("A port tube is {gap} from a wall inside.")
    }
    pub fn tube_to_tube(gap: &str) -> String {
        format!("The port tubes are {gap} apart.")
    }
    pub fn terminal_to_wall(gap: &str) -> String {
        format!("The terminal hole is {gap} from a wall inside.")
    }
    /// What is said before and after the length by which two things lie in one another.
    pub type InOneAnother = [&'static str; 2];
    pub const REAR_IN_BACK: InOneAnother =
        ["The driver's rear stands ", " in what is behind it: it does not fit. Make the box deeper."];
    pub const REAR_IN_SIDE: InOneAnother =
        ["The driver's rear stands ", " in the side: it does not fit. Make the box wider."];
    pub const PORT_IN_BACK: InOneAnother =
        ["The port's inner end stands ", " in the board opposite: it does not fit."];
    pub const FLANGE_PAST_EDGE: InOneAnother =
        ["The driver's flange reaches ", " past the edge of its board: it does not fit."];
    pub const FLANGES_MEET: InOneAnother = ["The drivers' flanges lie ", " over one another."];
    pub const FLANGE_OVER_PORT: InOneAnother = ["The driver's flange lies ", " over the port."];
    pub const HOLE_IN_WALL: InOneAnother =
        ["The driver's hole runs ", " into the edge of a wall inside: it does not fit."];
    pub const RADIATOR_PAST_EDGE: InOneAnother =
        ["The passive radiator's flange reaches ", " past the edge of its board: it does not fit."];
    pub const RADIATOR_OVER_NEXT: InOneAnother =
        ["The passive radiator's flange lies ", " over the next one."];
    pub const RADIATOR_IN_WALL: InOneAnother =
        ["The passive radiator's hole runs ", " into the edge of a wall inside: it does not fit."];
    pub const RADIATOR_IN_BOARD: InOneAnother =
        ["The passive radiator's rear stands ", " in what is opposite: it does not fit."];
    pub const TUBE_IN_WALL: InOneAnother = ["A port tube stands ", " in a wall inside: it does not fit."];
    pub const TUBES_MEET: InOneAnother = ["The port tubes stand ", " in one another."];
    pub const TERMINAL_IN_WALL: InOneAnother = ["The terminal hole runs ", " into a wall inside."];

    pub fn wood_behind_recess(left: &str, wanted: &str) -> String {
        format!("Behind the recess {left} of wood are left for the screws; they want {wanted}.")
    }
    pub fn overlap(a: &str, b: &str) -> String {
        format!("{a} and {b} take the same place; the ledger counts it twice. Move one.")
    }
    pub const BRACE_IN_MIDDLE: &str = " Two braces leave the middle of the width free.";
    pub fn no_space(axis: &str, over: &str) -> String {
        format!("In {axis} the box is {over} more than the space leaves after the air at each face.")
    }
    pub fn slanted_space(over: &str) -> String {
        format!(
            "The box runs {over} into the slanted limit of the space and the air before it. Lean its back more, or make it less deep."
        )
    }
    pub fn strips_in_slot(count: u8) -> String {
        format!(
            "{count} corner strips are left out: a slot or battens run along their edges and stiffen the corners there."
        )
    }
    pub fn strips_left_out(count: u8) -> String {
        format!(
            "{count} corner strips are left out: behind a step, along the floor of a slot, and where one would reach past \
             the middle of a wall there is no place for it."
        )
    }
    pub fn thin_board(thickness: &str, wanted: &str) -> String {
        format!("A board of {thickness} is thin for a subwoofer; {wanted} and more is common practice.")
    }
    pub fn unequal(axis: &str, inside: &str, difference: &str) -> String {
        format!("Pieces that set the inside {axis} differ by {difference}; the shortest counts: {inside}.")
    }
    pub fn unequal_port(difference: &str) -> String {
        format!("The port tubes differ by {difference} in length.")
    }
    pub fn cover_long(part: &str, dimension: &str, over: &str) -> String {
        format!("The {part} now stands over by {over} in {dimension}: trim it.")
    }
    pub fn cover_short(part: &str, dimension: &str, under: &str) -> String {
        format!("The {part} is {under} short in {dimension}: a step stays open outside.")
    }
}

/// The meter check.
#[allow(missing_docs)]
pub mod meter {
    pub const TITLE: &str = "Meter check";
    pub const UNPLUG: &str = "Main fuse out, the amplifier unplugged from this line, cones still. Short the probes first and enter what they read.";
    pub const READ: &str = "You read";
    pub const EXPECT: &str = "should read";
    pub const OPEN: &str = "Open line (OL)";
    pub const KEEP: &str = "Keep this reading";
    pub const KEPT: &str = "Readings kept";
    pub const METER: &str = "Your meter";
    pub const WRONG: &str = "This is no resistance: digits with one decimal point or comma, up to 1 MΩ.";
    pub const COULD_BE: &str = "it could be";
    pub const READS: &str = "reads";
    pub const NEXT: &str = "Measure next";
    pub const NO_READING: &str = "open";
    pub const AS_DRAWN: &str = "As drawn. Nothing else that is common reads like this.";
    pub const AS_DRAWN_OR: &str = "This fits the wiring as drawn, and also what is listed below.";
    pub const NOT_AS_DRAWN: &str = "This is not the wiring as drawn.";
    pub const UNEXPLAINED: &str =
        "Nothing this wiring can become reads like this. Check the meter, its range and its leads.";
    pub const STATE_DRAWN: &str = "wired as drawn";
    pub const STATE_WARM: &str = "wired as drawn, coils warm";
    pub const LINE_OPEN: &str = "the line does not reach the coils";
    pub const LINE_SHORTED: &str = "plus and minus of the line touch";
    pub const UNSEEN_TITLE: &str = "What no meter sees";
    pub const UNSEEN: &str = "A coil joined with plus and minus swapped reads the same. Touch a small 1.5 V cell to the terminals for a \
        moment, driver out of the box: every cone must move the same way, and a cone with two coils must move as far as with one.";
    pub const BOX_TERMINALS: &str = "at the box terminals, cable pulled off";
    pub const GUIDE: &str = "Guided, one question at a time";

    pub fn earlier(count: usize) -> String {
        if count == 1 { "One earlier reading".into() } else { format!("{count} earlier readings") }
    }
    pub fn warm(kelvin: &str) -> String {
        format!("As drawn, with coils {kelvin} K above the room. Let them cool and read again.")
    }
    pub const ALL_HOW: &str =
        "Commonest first: one fault, one with warm coils (up to 80 K above the room), two at once.";
    pub const MORE: &str = "Show more";
    pub fn all_states(count: usize) -> String {
        format!("All {count} states that read so")
    }
    pub fn warm_fault(fault: &str) -> String {
        format!("{fault}, coils warm")
    }
    pub fn coil_open(coil: &str) -> String {
        format!("coil {coil} open")
    }
    pub fn coil_shorted(coil: &str) -> String {
        format!("coil {coil} shorted")
    }
    pub fn across_itself(coil: &str) -> String {
        format!("coil {coil} joined across itself")
    }
    pub fn group_across(coils: &str) -> String {
        format!("coils {coils} bridged by a jumper")
    }
    pub fn swapped(coils: &str, to_series: bool) -> String {
        let (now, drawn) = if to_series { ("series", "parallel") } else { ("parallel", "series") };
        format!("coils {coils} in {now} instead of {drawn}")
    }
    pub fn jumper_missing(from: &str, to: &str) -> String {
        format!("jumper between coils {from} and {to} missing")
    }
    pub fn driver_off(driver: &str) -> String {
        format!("driver {driver} not connected")
    }
    pub fn other_wiring(wiring: &str, harmless: bool) -> String {
        if harmless { format!("wired {wiring}: same load, does no harm") } else { format!("wired {wiring}") }
    }
    pub fn and_more(count: usize) -> String {
        format!("and {count} rarer")
    }
    pub fn across_coil(coil: &str) -> String {
        format!("across coil {coil}, everything left joined")
    }
    pub fn coil_alone(coil: &str) -> String {
        format!("coil {coil} by itself, taken off the wiring")
    }
}

/// Keeping, opening, sharing.
#[allow(missing_docs)]
pub mod keep {
    pub const ASLEEP: &str =
        "The page failed to start twice. No design was opened; choose one, or save its text first.";
    pub const BLOCKED: &str = "This browser blocks storage: nothing is kept when the page closes. Share the design as a link or save it as a file.";
    pub const FULL: &str = "Storage is full: the last change is not saved. Save this design as a file, then delete one you no longer need.";
    pub const OPENED_LINK: &str = "Opened from a link, beside your other designs.";
    pub const OPENED_FILE: &str = "Opened from a file, beside your other designs.";
    pub const TOO_NEW: &str =
        "Made by a newer version of this page. Load the newest version, then open it again.";
    pub const NOT_A_FILE: &str = "This is not a design file. Your present design is unchanged.";
    pub const LINK_EMPTY: &str = "There is no design in this link. Your present design is unchanged.";
    pub const LINK_CUT: &str =
        "This link was cut short: its end is missing. Ask for it again. Your present design is unchanged.";
    pub const LINK_DAMAGED: &str =
        "This link was changed on its way and can't be read. Your present design is unchanged.";
    pub const LINK_TOO_LONG: &str = "This link is longer than any design. Your present design is unchanged.";
    pub const DESIGNS: &str = "Designs";
    pub const NEW: &str = "New design";
    pub const NEW_DEMO: &str = "Open the demo";
    pub const COPY: &str = "Copy this design";
    pub const DELETE: &str = "Delete";
    pub const DELETE_SURE: &str = "Tap again to delete";
    pub const OPEN_NOW: &str = "open now";
    pub const SHARE: &str = "Send";
    pub const LINK: &str = "Copy the link";
    pub const LINK_COPIED: &str =
        "The link is on the clipboard. It holds the whole design and goes to nobody but whom you send it to.";
    pub const LINK_BY_HAND: &str = "Copy the link from the field.";
    pub const LINK_FIELD: &str = "Link of this design";
    pub const LINK_SHARE: &str = "Send the link";
    pub const PASTE: &str = "Paste a link";
    pub const PASTE_OPEN: &str = "Open the link";
    pub const EXPORT: &str = "Save as a file";
    pub const IMPORT: &str = "Open a file";
    pub const IMPORT_FAILED: &str = "The file could not be read.";
    pub const EXPORT_FAILED: &str = "The browser refused to save a file. Send the design as a link.";
    pub const SHELF: &str = "Shelf";
    pub const SHELF_ABOUT: &str =
        "Drivers, amplifiers, vehicles and boxes to use again. A design takes copies.";
    pub const SHELF_PUT: &str = "Put on the shelf";
    pub const SHELF_TAKE: &str = "Take";
    pub const SHELF_DONE: &str = "On the shelf.";
    pub const CONFLICT: &str =
        "This design was changed in another tab. Nothing is saved here until you choose.";
    pub const CONFLICT_THEIRS: &str = "Show the other tab's";
    pub const CONFLICT_COPY: &str = "Keep mine as a copy";
    pub const DEMO_ABOUT: &str = "The demo's driver, amplifier and car are invented.";

    pub fn repaired(said: &str, count: usize) -> String {
        format!("{said} {count} entries did not fit and stand unfinished in their fields.")
    }
}

/// Messages at a field.
#[allow(missing_docs)]
pub mod entry {
    pub const NOTHING: &str = "enter";
    pub const UNKNOWN_CHOICE: &str = "This is not one of the choices.";

    pub fn range(low: &str, high: &str) -> String {
        format!("{low} to {high}")
    }
    pub fn out_of_range(label: &str, range: &str) -> String {
        still_used(&format!("{label} must be {range}."))
    }
    pub const EMPTY: &str = "Enter a number.";
    pub const NOT_A_NUMBER: &str =
        "This is not a number: digits, one decimal point or comma, or a fraction such as 13 3/8.";
    pub const TWO_SIGNS: &str = "There are two decimal signs. Write 1234.5 or 1234,5.";
    pub const ODD_FRACTION: &str = "Fractions go by 2, 4, 8, 16, 32 or 64.";
    pub const TOO_LONG: &str = "This has more digits than any tape or meter shows.";

    pub fn still_used(message: &str) -> String {
        format!("{message} The last value that fits is still used.")
    }
}

/// Titles and texts of the places.
#[allow(missing_docs)]
pub mod page {
    pub const GOOD: &str = "Good:";
    pub const CARE: &str = "Care:";
    pub const STOP: &str = "Stop:";
    pub const OR: &str = "; or ";
    pub const WAITING: &str = "Waits for the entries above.";
    pub const CURVES: &str = "Curves";
    pub const BOX_DRAWN: &str = "Box, front and section";
    pub const DRIVER: &str = "Driver";
    pub const DRIVER_WINS: &str = "fs, Qes, Qms, Vas, Sd, Re win";
    pub const DRIVER_MORE: &str = "Mass, compliance, force factor, power";
    pub const DRIVER_SIZES: &str = "Mounting sizes";
    pub const RADIATOR_SIZES: &str = "Radiator mounting sizes";
    pub const BOX: &str = "Box";
    pub const LOSSES: &str = "Losses and air";
    pub const DRIVE: &str = "Drive";
    pub const MORE_CURVES: &str = "Impedance, delay, power, step";
    pub const SPACE: &str = "Space in the vehicle";
    pub const BUILD: &str = "How it is built";
    pub const OUTSIDE: &str = "Fix outside sizes";
    pub const DETAILS: &str = "Terminal, braces, tube, blade";
    pub const DRAWING: &str = "The box: front view and section";

    pub fn dimension(label: &str, value: &str) -> String {
        format!("{label}: {value}, change")
    }

    pub fn missing(what: &str) -> String {
        format!("Still needed: {what}.")
    }
    pub fn refused(why: &str) -> String {
        format!("This can't be: {why}.")
    }
}

/// Tables.
#[allow(missing_docs)]
pub mod table {
    pub const HIGHER: &str = "higher";
    pub const WIDER: &str = "wider";
    pub const DEEPER: &str = "deeper";
    pub const RADIATORS_NOTE: &str = "Weigh each radiator's cone with its weights; both need the same. It sits in an airtight hole, like a driver.";
    pub const PUSH_PULL_NOTE: &str = "The second driver of each pair lies face to face on the first, wired the other way round. It stands out before the front by its own depth: leave room for it.";
    pub const DIVIDED_NOTE: &str = "The drivers sit inside, their flanges on the divider: screw one panel on with a gasket instead of gluing it. The divider must be airtight too. Corner strips that would cross it are left out. A port through the divider is a tube; every other one is a tube or a straight slot on the floor of its room.";
    pub const CAME_OUT_AT: &str = "it came out at";
    pub const ALL_ALIKE: &str = "all came out at";
    pub const EACH_ITS_OWN: &str = "sizes differ";
    pub const SQUARE: &str = "square edges";
    pub const WIDE: &str = "measured on the wide face";
    pub const MITRED: &str = "ends mitred where strips meet, to the long point";
    pub const ONE_COIL: &str = "one coil";
    pub const ALL_SERIES: &str = "all coils in series";
    pub const ALL_PARALLEL: &str = "all coils in parallel";
    pub const FULL_LINE: &str = "full line";
    pub const DASHED_LINE: &str = "dashed line";
    pub const CHAIN_LINE: &str = "chain line";
    pub const AMPLIFIER_PLUS: &str = "amplifier +";
    pub const AMPLIFIER_MINUS: &str = "amplifier −";
    pub const NO_AMPACITY: &str = "carries too little";
    pub const NO_DROP: &str = "loses too much";
    pub const NO_FUSE: &str = "no fuse fits";
    pub const NO_SHORT: &str = "a short would not open the fuse";
    pub const NO_TABLE: &str = "no table for this metal";

    /// One of several pieces, counted.
    pub fn piece(number: usize) -> String {
        format!("piece {number}")
    }
    pub fn rounding(shift: &str) -> String {
        format!("Rounding the sizes to the tape changes the net volume by {shift}.")
    }
    pub fn as_built(shift: &str) -> String {
        format!("The cuts that came out differently change it by {shift} more.")
    }
    pub fn trim(boards: &str, over: &str, more: &str) -> String {
        format!("{boards}: {over} {more} than the box: trim flush after gluing.")
    }
    pub fn tube(length: &str, outer: &str) -> String {
        format!("{length} long, ⌀ {outer} outside")
    }
    pub fn bevel(dimension: &str, degrees: &str) -> String {
        format!("both edges of the {dimension} at {degrees}°")
    }
    pub fn blade(unit: &str, degrees: &str) -> String {
        format!("{unit}, blade {degrees}°")
    }
    pub fn mixed(series: u32, parallel: u32, notation: &str) -> String {
        format!("{series} in series, {parallel} such paths: {notation}")
    }
    pub fn not_rated(low: &str, high: &str) -> String {
        format!("{low} to {high}\u{a0}W, not rated")
    }
    pub fn step(line: &str, from: &str, to: &str) -> String {
        format!("{line}: {from} to {to}")
    }
    pub fn coil_name(coil: &str) -> String {
        format!("coil {coil}")
    }
    pub fn coil_terminal(coil: &str, sign: &str) -> String {
        format!("coil {coil} {sign}")
    }
}

/// At the saw.
#[allow(missing_docs)]
pub mod saw {
    pub const LAST_BOX: &str =
        "Below is the last box that went together. It is not what is entered now: do not cut by it.";
    pub const OUTSIDE: &str = "outside, width × height × depth";
    pub const INSIDE: &str = "inside";
    pub const PORT: &str = "port length, tuning";
    pub const FRONT_PORT: &str = "front chamber's port length, tuning";
    pub const LEDGER: &str = "Volume ledger";
    pub const FENCE: &str = "Fence order";
    pub const FENCE_ABOUT: &str =
        "Everything that shares a size is cut before the fence moves. Tick what is cut.";
    pub const CUT_LIST: &str = "Cut list";
    pub const PIECE: &str = "piece";
    pub const SIZE: &str = "length × width × thickness";
    pub const FACES: &str = "Front and back cover the rest; top and bottom cover the sides. Square edges measure alike on both faces.";
    pub const CAME_OUT: &str = "came out…";
    pub const AS_PLANNED: &str = "as planned";
    pub const CAME_OUT_BAD: &str = "Enter the size as measured, within a fifth and within 25 mm of the plan. A piece further off is made again.";
    pub const CAUTION_SAW: &str = "Guard and riving knife on, fence clamped, push block for strips. Mask and extraction: wood dust \
        harms the lungs. The saw's own manual and local rules come first.";
    pub const CAUTION_ROUTER: &str =
        "Router: clamp the work, feed against the cutter, take the recess in passes. Ear and eye protection.";

    pub const LEVEL: &str = "Cut level, from above";
    pub const LEVEL_DRAWING: &str =
        "The box cut level and seen from above: cut wood hatched, the rest dashed";

    pub fn level_at(height: &str) -> String {
        format!(
            "Cut {height} above the bottom; the front is below, left is left. Wood and (air) in turn, to check the dry fit with:"
        )
    }
    pub fn level_along(from_left: &str) -> String {
        format!("front to back, {from_left} from the left")
    }
    pub fn level_across(behind: &str) -> String {
        format!("left to right, {behind} behind the front's face")
    }
    pub fn kerf(kerf: &str) -> String {
        format!("kerf {kerf}")
    }
    pub fn cut_list_unit(unit: &str) -> String {
        format!("{unit}, as cut")
    }
    pub fn came_out(size: &str) -> String {
        format!("came out {size}")
    }
    pub fn came_out_label(what: &str) -> String {
        format!("{what}: the size it came out at")
    }
    pub fn blank(count: usize, width: &str, length: &str) -> String {
        format!(
            "{count} corner strips come from a blank {width} wide and {length} long, blade 45°, turned face for face between cuts."
        )
    }
}

/// In the car.
#[allow(missing_docs)]
pub mod car {
    pub const WIRING: &str = "Coil wiring";
    pub const DIAGRAM: &str = "Wiring diagram; the numbered steps below say the same";
    pub const AMPLIFIER_SHORT: &str = "amp";
    pub const CHOOSE: &str = "Every balanced way; choose one";
    pub const CHOOSE_SHORT: &str = "A balanced way for each load; choose one";
    pub fn all_options(count: usize) -> String {
        format!("Show all {count} ways")
    }
    pub const CHOOSE_MIXED: &str = "Ways to join them; choose one";
    pub const OWN: &str = "wired your way:";
    pub const FURTHER: &str = "Further ways with equal shares";
    pub const FURTHER_HOW: &str = "Every coil takes the same here too, and no load is new: first the ways with unlike branches, then those with the \
        coils of a driver apart. Tap one to use it; it then stands in the list as wired your way.";
    pub fn not_apart(in_all: Option<u32>) -> String {
        let in_all = in_all.map_or_else(|| "millions of ways".into(), |count| format!("{count} ways in all"));
        format!(
            "Beyond fourteen coils, ways with the coils of a driver apart are listed only where every group divides the drivers, or the \
            coils of each, into equal parts. There are {in_all}, none with a new load; join one by hand below."
        )
    }
    pub const FURTHER_LOAD: &str = "With a load of";
    pub const MORE_WAYS: &str = "Show more";
    pub fn every_load(count: usize) -> String {
        format!("any, {count} ways")
    }
    pub fn ways(count: usize) -> String {
        if count == 1 { "One way.".into() } else { format!("{count} ways.") }
    }
    pub const IGNORED: &str = "What is typed here is no wiring of these coils, so it is not used; the one above is. Correct it, or tap a way above \
        to put that in its place.";
    pub const EDIT: &str = "Wire it another way";
    pub const EDIT_HOW: &str = "Tap two or more, then how to join them. Or type it: - joins in series, | in parallel, brackets group.";
    pub const IN_SERIES: &str = "In series";
    pub const IN_PARALLEL: &str = "In parallel";
    pub const APART: &str = "Take apart";
    pub const USE: &str = "Use this wiring";
    pub const JOINED_SO_FAR: &str = "joined so far";
    pub const SHARES: &str = "Each coil's share";
    pub const COIL: &str = "coil";
    pub const OF_POWER: &str = "power";
    pub const OF_VOLTAGE: &str = "voltage";
    pub const QES: &str = "Qes with cable and amplifier";
    pub const ORDER: &str = "Which coils to order";
    pub const ORDER_HOW: &str = "For this amplifier and this many drivers, best first: as much power as the amplifier is rated for at a load it stands.";
    pub const VERSION: &str = "coils";
    pub const LOAD: &str = "best load";
    pub const POWER: &str = "power";
    pub const SECOND_KIND: &str = "A second kind of driver";

    pub fn version(coils: u8, ohms: &str) -> String {
        if coils == 1 { format!("{ohms} Ω") } else { format!("{coils} × {ohms} Ω") }
    }
    pub fn also(loads: &str) -> String {
        format!("loads {loads} Ω")
    }
    pub fn damping(source: &str, line: &str, before: &str, after: &str) -> String {
        format!("{source} Ω of cable and amplifier before {line} Ω of coils: Qes {before} becomes {after}.")
    }
    pub fn least_good(least: &str, at: &str, allowed: &str) -> String {
        format!(
            "In this box the load falls to {least} Ω at {at} Hz; the amplifier's rating allows for {allowed} Ω."
        )
    }
    pub fn least_only(least: &str, at: &str) -> String {
        format!("In this box the load falls to {least} Ω at {at} Hz. Enter the amplifier to compare.")
    }
    pub const COILS: &str = "Coils";
    pub const LINE: &str = "Speaker cable and tolerance";
    pub const UNSTABLE: &str = "below what the amplifier stands";
    pub const FEED: &str = "Feed from the battery";
    pub const FEED_ENTRIES: &str = "Feed, entries";
    pub const DRAW: &str = "draw at full power";
    pub const CABLE: &str = "cable, out and back";
    pub const CABLE_BODY: &str = "cable to +, back by the body";
    pub const FUSE: &str = "fuse at the battery";
    pub const CABLES: &str = "Cables around this one";
    pub const SIZE: &str = "size";
    pub const CARRIES: &str = "carries";
    pub const DROP: &str = "drop";
    pub const FUSE_SHORT: &str = "fuse";
    pub const THIS_ONE: &str = "this one";
    pub const FEED_SOURCE: &str = "Ampacity: 33 CFR 183.425 table 5, a rule for boats, derated for the place's heat; no such table binds in \
        cars. Fuse: the largest standard rating not above the cable and not below the draw. Local rules come first.";
    pub const AMPLIFIER: &str = "Amplifier";
    pub const POWER_HERE: &str = "power at this load and supply";
    pub const GAIN: &str = "gain: set for";
    pub const GAIN_HOW: &str = "Loudspeaker unplugged, a sine tone at the loudest the source gives, gain up from zero to this \
        voltage and not past it: the sag under load is in it.";
    pub const CAUTION_FUSE: &str = "Battery ground off before you work on the feed. Fuse as close to the battery as you can; a short before \
        the fuse burns the car. If in doubt, ask a licensed electrician.";
    pub const CAUTION_LOUD: &str = "First tone quiet. At 100 dB(A) hearing is safe for 15 minutes a day (NIOSH); bass reads low in dB(A) and \
        is no proof of safety.";
    pub const CAUTION_CRASH: &str = "A loose box flies in a crash: a 20 kg box pulls about 4 kN at 20 g. Bolt it to structure, not to trim, and \
        follow local rules for loads.";

    pub fn meter_reads(reading: &str) -> String {
        format!("meter {reading}")
    }
    pub fn power(power: &str, share: &str) -> String {
        format!("{power}, {share} in each coil")
    }
    pub fn of_coil(volts: &str, qes: Option<&str>) -> String {
        match qes {
            Some(qes) => format!("{volts} across each coil; damped to Qes {qes}"),
            None => format!("{volts} across each coil"),
        }
    }
    pub fn feed_why(ampacity: &str, volts: &str, percent: &str) -> String {
        format!("Carries {ampacity} A here and loses {volts} V ({percent} %) at full draw.")
    }
}

/// Quick checks.
#[allow(missing_docs)]
pub mod quick {
    pub const TITLE: &str = "Quick checks, no design needed";
    pub const COIL: &str = "Coil";
    pub const CABLE: &str = "Cable and fuse";
    pub const DROP: &str = "Voltage drop";
    pub const GAIN: &str = "Gain voltage";
    pub const NOMINAL: &str = "Nominal impedance of the coil";
    pub const READING: &str = "Meter reads, leads taken off";
    pub const IF_READ: &str = "if read";
    pub const CURRENT: &str = "Current";
    pub const RUN: &str = "Run, one way";
    pub const SUPPLY: &str = "Supply";
    pub const POWER: &str = "Power wanted";
    pub const LOAD: &str = "Load";
    pub const AT_REST: &str = "Volts at the amplifier, no music";
    pub const UNDER_LOAD: &str = "and at full power";
    pub const IF_KNOWN: &str = "if known";
    pub const SIZE: &str = "Cable size, copper";
    pub const NOT_A_NUMBER: &str = "This is not a number.";
    pub const FILL: &str = "Fill in the first fields.";
    pub const ATTACH: &str = "Keep with this job";
    pub const ATTACHED: &str = "Kept with this job";

    pub fn coil_band(band: &str) -> String {
        format!("A sound coil of this kind reads {band} (common practice, no standard).")
    }
    pub fn coil_good(read: &str, band: &str, off: &str) -> String {
        format!("{read} is what a sound coil reads: {band}. The meter may be off by {off} here.")
    }
    pub fn coil_near(read: &str, band: &str, off: &str) -> String {
        format!(
            "{read} is no sign of a fault: a sound coil reads {band}, and the meter may be off by {off} here. It can't tell this \
            coil from the next version."
        )
    }
    pub fn coil_low(read: &str, band: &str, off: &str) -> String {
        format!(
            "{read} is below {band} by more than the meter's {off}: coils in parallel, a partly shorted coil, or another version."
        )
    }
    pub fn coil_high(read: &str, band: &str, off: &str) -> String {
        format!(
            "{read} is above {band} by more than the meter's {off}: coils in series, a bad contact, leads not taken off, or a warm coil."
        )
    }
    pub fn cable(size: &str, fuse: &str, drop: &str, ampacity: &str) -> String {
        format!(
            "{size} copper with a {fuse} fuse at the battery: carries {ampacity} A at 40 °C with 75 °C insulation and loses {drop} % of at most 3 %."
        )
    }
    pub fn drop(volts: &str, percent: &str, milliohms: &str) -> String {
        format!("{volts} V lost, {percent} % of the supply; {milliohms} mΩ out and back at 40 °C.")
    }
    pub fn gain(volts: &str) -> String {
        format!(
            "{volts} V AC at the output, loudspeaker unplugged, sine tone. Not corrected for what the supply sags under load: \
            enter both supply voltages below for that, or take a design's own gain voltage."
        )
    }
    pub fn sagged_gain(volts: &str, watts: &str, unsagged: &str) -> String {
        format!(
            "{volts} V AC at the output, loudspeaker unplugged, sine tone; {unsagged} V without the sag. That is {watts} W: what the sagging \
            supply leaves of an amplifier that makes the power entered at the voltage without music. Its swing follows its supply, the \
            power the square of it. An amplifier with a regulated supply needs no such correction: leave both empty."
        )
    }
}

/// Units and theme.
#[allow(missing_docs)]
pub mod settings {
    pub const TITLE: &str = "Units, each by itself";
    pub const LENGTH: &str = "Boards and boxes";
    pub const MM: &str = "mm";
    pub const IN16: &str = "inches, 1/16";
    pub const IN32: &str = "inches, 1/32";
    pub const VOLUME: &str = "Volumes";
    pub const LITRES: &str = "litres";
    pub const CUBIC_FEET: &str = "cubic feet";
    pub const RUN: &str = "Cable runs";
    pub const METRES: &str = "metres";
    pub const FEET: &str = "feet";
    pub const CABLE: &str = "Cable sizes";
    pub const TEMPERATURE: &str = "Temperatures";
    pub const THEME: &str = "Paper";
    pub const SYSTEM: &str = "as the system";
    pub const DAY: &str = "day";
    pub const NIGHT: &str = "night";
    pub const SOUND: &str = "Sound and buzz at a verdict";
    pub const HAND: &str = "Keys for";
    pub const LEFT: &str = "the left hand";
    pub const RIGHT: &str = "the right hand";
    pub const ON: &str = "on";
    pub const OFF: &str = "off";
    pub const ABOUT: &str = "About";
    pub const ABOUT_TEXT: &str = "Everything is calculated in this browser; nothing is sent anywhere. The lumped model is good to about 1 dB \
        below 200 Hz. Check sizes and readings yourself before you cut or power up.";
    pub const CONTENTS: &str = "On this sheet";
}

/// From the battery to the loudspeaker: warnings and texts of the feed.
#[allow(missing_docs)]
pub mod feed {
    pub const STRAP_NOT_ALLOWED: &str = "Two amplifiers on one load destroy each other unless their maker allows it and \
        says how. Ask, then enter that it is allowed.";
    pub const BATTERY_LOW: &str = "By its resting voltage the battery is at or below what you keep for starting. Charge \
        it before you power up.";
    pub const COPPER: &str = "copper";
    pub const CLAD: &str = "copper-clad aluminium";
    pub const ALUMINIUM: &str = "aluminium";
    pub const MAIN: &str = "main cable";
    pub const LINK: &str = "cable between the batteries";
    pub const CHARGE: &str = "charge cable";

    pub const CABLES: &str = "Every cable";
    pub const FUSE: &str = "Fuse, short circuit, distance";
    pub const SUPPLY: &str = "Battery and alternator";
    pub const SECOND: &str = "Second battery";
    pub const CAPACITOR: &str = "Capacitor";
    pub const PROOF: &str = "Prove the cable";
    pub const MEASURE: &str = "What to measure";
    pub const RATINGS: &str = "Ratings and outputs";
    pub const GAIN: &str = "Gain, step by step";
    pub const POWER: &str = "Power in this box";
    pub const LINE: &str = "Speaker cable, what it takes";

    pub const CABLE_HEADS: [&str; 5] = ["cable", "flows", "size", "loses", "fuse"];
    pub const BOTH_ENDS: &str = "at both ends";
    pub const BODY_MEASURED: &str = "The body's resistance is the one you entered.";
    pub const BODY_ASSUMED: &str = "The body's resistance is assumed (no source). Measure it: amplifier minus to battery \
        minus, millivolts over amperes.";
    pub const RUNNING: &str = "at the amplifier, engine running";
    pub const RESTING: &str = "from the battery alone";
    pub const CABLE_SOURCE: &str = "Worst case is every amplifier at full power without end; average takes the share of \
        full power in use. A third is common for dense bass, an eighth for music (no source).";

    pub const RATING: &str = "rating";
    pub const TYPES: &str = "types that have it and break the short";
    pub const TYPES_TOO_WEAK: &str = "types that have it; none is known to break the short";
    pub const CEILING: &str = "33 CFR 183.455 would allow up to; not used";
    pub const AT_FUSE: &str = "short right behind it";
    pub const FAR_END: &str = "short at the far end";
    pub const OPENS: &str = "opens on that within";
    pub const FUSE_WHY: &str = "The largest standard rating that is not above what the cable carries, not below the draw, \
        and small enough that a short at the far end brings 3.5 times it. A large blade may carry 135 % of its rating \
        for half an hour (DIN 72581-3), so 150 % of the cable would cook it.";
    pub const PLACE_HEADS: [&str; 2] = ["fuse from the battery", "at most, along the cable"];
    pub const PLACE_DEFAULT: &str = "the place to aim for";
    pub const PLACE_IMPRACTICAL: &str = "only if the source itself won't do";
    pub const PLACE_SHEATHED: &str = "cable in a sheath all the way";
    pub const PLACE_BATTERY: &str = "cable that starts at a battery";
    pub const PLACE_CHARGING: &str = "cable to a charger or alternator";
    pub const PLACE_CLOSE: &str = "as close as practical";
    pub const PLACE_AT_SOURCE: &str = "at the source";
    pub const NO_SOURCE: &str = "common practice, no source";
    pub const PARTLY: &str = "number confirmed, clause not read";
    pub const CUSTOM: &str = "car trade";
    pub const FUSE_CAUTION: &str = "Battery ground off while you work. A battery short melts tools and burns skin; rings \
        and watches off. The rules above are for boats and trucks: local rules come first.";

    pub const CHARGE_STATE: &str = "state of charge by that voltage";
    pub const MOST: &str = "most the battery gives any load, V²/4R";
    pub const HOURS_OFF: &str = "music with the engine off, at most";
    pub const DAYS: &str = "asleep until the reserve";
    pub const IDLE_SPARE: &str = "left at hot idle";
    pub const DRIVING_SPARE: &str = "left when driving";
    pub const AT_IDLE: &str = "average draw at idle";
    pub const IDLE_COVERED: &str = "covered";
    pub const ABOUT_PLAIN: &str = "The alternator holds the voltage; bursts beyond it come out of the battery, at the \
        battery's lower voltage.";
    pub const ABOUT_SENSOR: &str = "Amplifier minus to the body, never to the battery's minus post: current past the \
        sensor is not counted, and the vehicle reads the battery as full or failing.";
    pub const ABOUT_SMART: &str = "The vehicle lowers the voltage when it likes, down to the battery's own. The figures \
        engine running are taken at 12.5 V at most (from memory).";
    pub const ABOUT_CONVERTER: &str = "The converter gives its rated current at any speed and not an ampere more; beyond \
        it the 12 V battery, often small, is alone. Take the rating from the vehicle's papers.";
    pub const HIGH_VOLTAGE: &str = "Orange cables carry hundreds of volts and stay charged with the car off. Never open, \
        move or drill near them.";
    pub const RESISTANCE_ASSUMED: &str = "Internal resistance by capacity, from memory. Cold, old or half empty it is \
        several times that; a battery tester shows it.";
    pub const SUPPLY_SOURCE: &str = "Charge by resting voltage: two informal tables up to 0.15 V apart, lead-acid only. \
        Share at hot idle, own load and drain are common practice, no source; measure yours.";

    pub const SECOND_NONE: &str = "None. With one, the amplifier's feed starts at the second battery, and its run is \
        counted from there.";
    pub const EQUALISING: &str = "when the isolator closes on an empty battery";
    pub const CHARGER_INPUT: &str = "the charger takes";
    pub const SECOND_ABOUT: &str = "The cable between the batteries is fused at both ends, each fuse at its battery: either \
        one can feed a short. It stands in the list of every cable. A charger limits the current and suits alternators \
        whose voltage varies; an isolator passes all there is.";
    pub const SECOND_CAUTION: &str = "A battery in the cabin is boxed, vented outside if it can gas, and held for a crash. \
        Different chemistries only behind a charger made for both.";

    pub const STORED: &str = "stored at the supply";
    pub const GIVEN: &str = "given within the sag allowed";
    pub const COVERS: &str = "covers";
    pub const STEP: &str = "its own resistance takes at once";
    pub const CAP_REFUSED: &str = "With these entries it gives nothing.";
    pub const CAP_TOO_SLOW: &str =
        "Its own resistance takes the whole sag at once: at that current it gives nothing.";
    pub const CAP_ABOUT: &str = "It evens out moments, no more: what it gives has to come back through the same cable. A \
        shorter or thicker cable works for as long as the music plays.";
    pub const CAP_CAUTION: &str = "Charge it through a resistor or lamp before the first connection: straight on, it sparks \
        and takes the fuse.";

    pub const PROOF_HOW: &str = "Strip a piece and weigh the bare metal; or pass a known current and read millivolts over \
        one metre, probes in the metal. With both, the metal shows whatever was claimed.";
    pub const PROOF_CLAIM: &str = "With one of the two the size it was sold as is needed.";
    pub const PROOF_SOURCE: &str = "IEC 60028 copper 8.89 g/cm³; ASTM B566 class 10A 3.32 g/cm³, 62.9 % conductivity; \
        aluminium 2.70 g/cm³, 61 %. At 20 °C. Strands are 2 % to 5 % longer than the cable (from memory).";
    pub const PROOF_HEADS: [&str; 3] = ["if it were", "mass says", "millivolts say"];
    pub const PROOF_COPPER_FITS: &str =
        "Fits copper of the size sold. The other measurement would settle it.";
    pub const PROOF_NOT_COPPER: &str =
        "Does not fit copper of the size sold: another metal, or another size.";
    pub const AS_COPPER: &str = "counts as copper of";
    pub const METRE: &str = "one metre of that";
    pub const OF_CLAIM: &str = "of the copper claimed";

    pub const MEASURE_HOW: &str = "Steady tone, engine running, clamp meter round the main cable; enter its current above. \
        DC volts from metal to metal, not on screws or plating.";
    pub const MEASURE_HEADS: [&str; 2] = ["probes", "expect"];
    pub const MEASURE_SOURCE: &str = "Cables from cold to warm with strands 5 % longer. Fuse and holder 0.1 V at the rating, \
        charging 13.5 V to 14.8 V, AGM resting 0.15 V more: from memory.";
    pub const M_REST: &str = "battery posts, rested 8 h";
    pub const M_RUNNING: &str = "battery posts, engine running";
    pub const M_FUSE: &str = "across the main fuse and its holder";
    pub const M_PLUS: &str = "battery plus to the main cable's end";
    pub const M_BRANCH: &str = "distribution to amplifier plus";
    pub const M_RETURN: &str = "amplifier minus to battery minus";
    pub const M_TERMINALS: &str = "amplifier's own plus and minus";
    pub const M_DRAIN: &str = "current, everything asleep";
    pub const M_REST_ODD: &str =
        "Not a charged battery at rest. Charge it, leave it for eight hours, read again.";
    pub const M_DRAIN_ODD: &str =
        "Something stays awake. Wait until the vehicle sleeps; then pull fuses one by one until it falls.";
    pub const M_ONE_BY_ONE: &str = "Read them one by one";
    pub const M_NEXT: &str = "Next place";

    pub const LEAST_LOAD: &str = "least load as joined";
    pub const FULL_DRAW: &str = "draws at full power";
    pub const AVERAGE_DRAW: &str = "on average";
    pub const BASIS_CTA: &str = "CTA-2006: at 14.4 V into 4 Ω with at most 1 % distortion and noise. Bass amplifiers over \
        the band their maker states.";
    pub const BASIS_CTA_C: &str =
        "CTA-2006-C: at 14.4 V into 4 Ω with at most 1 % distortion and noise, held for a minute.";
    pub const BASIS_NONE: &str = "Without a stated basis watts may be a peak. Its own fuses tell: volts times fuses times \
        efficiency is what it can keep up.";
    pub const JOINED_NOT: &str = "One channel on the load.";
    pub const JOINED_BRIDGED: &str = "Bridged, each channel sees half the load: power is twice one channel's there, and the \
        least load twice a channel's unless the maker says otherwise. Both plus posts drive; neither may touch ground.";
    pub const JOINED_STRAPPED: &str = "Strapped, each amplifier sees half the load. Only as the maker describes it, with \
        its link cable, same gain on both.";
    pub const POWER_MODEL: &str = "Between rated loads power lies between constant voltage and constant current; beyond them no \
        higher than the line through the last two ratings, no lower than constant voltage above and constant current below. With one \
        rated supply it goes with the supply's square, or stays if regulated; with two, by the law through both.";

    pub const GAIN_VOLTS: &str = "set for";
    pub const GAIN_MAKES: &str = "makes";
    pub const GAIN_UNSAGGED: &str = "without sag it could reach";
    pub const LIMIT_WANTED: &str = "The power wanted sets it.";
    pub const LIMIT_COILS: &str = "What the coils stand sets it.";
    pub const LIMIT_AMPLIFIER: &str = "The amplifier sets it, at the voltage its supply sags to under load. Unloaded it would \
        go higher and look clean; under load that part clips.";
    pub const GAIN_STEPS: [&str; 7] = [
        "Gain at minimum, bass boost and filters off, loudspeaker disconnected.",
        "DC at the output: close to zero, or stop.",
        "Loudspeaker on: a quiet tone from every cone, then polarity. Off again.",
        "Loudspeaker disconnected, engine running, outdoors: sine in the pass band from the source at its loudest clean setting.",
        "Meter on AC volts at the output, one that reads true rms at that frequency.",
        "Gain up to the voltage above, not past it. Mark the place.",
        "Gain down, loudspeaker on, gain back to the mark with music.",
    ];
    pub const GAIN_LOADED: &str = "With the loudspeaker on, the same voltage holds, but the cone moves, the coil heats and the \
        tone is at full power.";
    pub const GAIN_CAUTION: &str = "Loaded only in bursts of a second or two, ears protected, box fastened. A bridged output \
        has no ground side: meter from plus to plus, nothing grounded.";

    pub const POWER_WAITS: &str = "Needs the box and the driver.";
    pub const POWER_HEADS: [&str; 3] = ["at", "impedance", "real power"];
    pub const POWER_MEAN: &str = "mean, 20 to 125 Hz";
    pub const POWER_MOST: &str = "most";
    pub const POWER_LEAST: &str = "least";

    pub const LINE_LOSS: &str = "costs";
    pub const LESS_THAN_TENTH: &str = "under 0.1\u{a0}dB";
    pub const LINE_POWER: &str = "of the power warms it";
    pub const LINE_QTS: &str = "Qts";
    pub const LINE_HEADS: [&str; 2] = ["copper, same run", "costs"];
    pub const LINE_RESPONSE_HEADS: [&str; 2] = ["at", "level with this cable"];
    pub const LINE_RESPONSE: &str = "Beside no cable at all, in this box, at the amplifier's same voltage: where the load's impedance is high the \
        cable takes less, and Qts rises.";
    pub const LINE_ABOUT: &str =
        "At the nominal load. The curves at the desk already have the cable in use in them.";

    pub fn average(amperes: &str) -> String {
        format!("{amperes} average")
    }
    pub fn carries_loses(size: &str, carries: &str, loses: &str) -> String {
        format!("{size} carries {carries}, loses {loses}")
    }
    pub fn or_carries(other: &str, carries: &str) -> String {
        format!("or {other}; carries {carries}")
    }
    pub fn beside(segment: &str, numbers: &str) -> String {
        format!("Beside it, {segment}: {numbers}.")
    }
    pub fn whole_drop(percent: &str) -> String {
        format!("From battery to amplifier and back {percent} at the worst case.")
    }
    pub fn settles(volts: &str, amperes: &str, watts: &str) -> String {
        format!("{volts}, {amperes}, {watts} out")
    }
    pub fn battery_helps(settled: &str) -> String {
        format!("{settled}; more than the alternator has left, so the battery helps and drains")
    }
    pub fn settles_not(most: &str) -> String {
        format!("no operating point; at most {most} to any load")
    }
    pub fn far_end(amperes: &str, times: &str) -> String {
        format!("{amperes}, {times} × rating")
    }
    pub const NO_POINTS: &str = "no times at hand for these types";
    pub fn opens(seconds: &str, verified: bool) -> String {
        format!("{seconds}\u{a0}s{}", if verified { "" } else { " (from memory)" })
    }
    pub fn between(low: &str, high: &str) -> String {
        if low == high { low.into() } else { format!("{low} to {high}") }
    }
    pub fn up_to(high: &str) -> String {
        format!("up to {high}")
    }
    pub fn days(days: &str) -> String {
        format!("{days} days")
    }
    pub fn idle_hours(hours: &str) -> String {
        format!("not covered; reserve after {hours}")
    }
    pub fn covers(time: &str, amperes: &str) -> String {
        format!("{time} of {amperes}")
    }
    pub fn proof_sure(metal: &str) -> String {
        format!("It is {metal}.")
    }
    pub fn proof_unsure(metal: &str) -> String {
        format!("Closest to {metal}, but no metal fits alone. Weigh and measure again.")
    }
    pub fn of_claim(percent: &str, size: &str) -> String {
        format!("{percent}\u{a0}% of {size}")
    }
    pub fn at_current(amperes: &str) -> String {
        format!("at {amperes}")
    }
    pub fn power_about(volts: &str, watts: &str) -> String {
        format!(
            "The gain's {volts} make {watts} in a resistor of the nominal load. In this box the impedance is higher over \
            most of the range, and the real power lower."
        )
    }
    pub fn power_at(watts: &str, hertz: &str) -> String {
        format!("{watts} at {hertz}\u{a0}Hz")
    }
    pub fn from_to(from: &str, to: &str) -> String {
        if from == to { format!("stays {to}") } else { format!("{from} becomes {to}") }
    }
    pub fn branch(number: usize) -> String {
        format!("branch to amplifier {number}")
    }
    pub fn no_point(most: &str, wanted: &str) -> String {
        format!(
            "There is no operating point: the feed delivers at most {most} to any load, and the amplifier would want \
            {wanted}. A thicker or shorter cable, or less power."
        )
    }
    pub fn breaking(at_fuse: &str) -> String {
        format!(
            "A short right behind the main fuse can draw {at_fuse}; the fuses of ISO 8820 break 1000 A or 2000 A. Take a \
            type stated to break more and enter that, or enter the battery's measured resistance."
        )
    }
    pub fn fuse_far(distance: &str) -> String {
        format!(
            "The fuse is {distance} from the battery. Car trade custom is 450 mm at most (no source); ISO 13590 for \
            watercraft allows 900 mm. Until the fuse the cable is unprotected."
        )
    }
    pub fn insulation_cool(place: &str, ambient: &str, rating: &str) -> String {
        format!(
            "The {place} lies where it is {ambient}, its insulation stands {rating}: it may carry nothing. Take another \
            route or better insulation."
        )
    }
    pub fn no_segment(place: &str) -> String {
        format!(
            "No size of the list serves the {place}: none carries its current within the drop allowed with a fuse that \
            protects it. Shorten it, allow more drop, or take better insulation."
        )
    }
    pub fn rating_beyond_fuse(draw: &str, fitted: &str) -> String {
        format!(
            "At the rating the amplifier would draw {draw}, more than its own fuses of {fitted} pass for long. The rating \
            is a peak, or the efficiency is better than entered."
        )
    }
    pub fn idle_short(short: &str, hours: &str) -> String {
        format!(
            "At hot idle the alternator lacks {short} on average: the battery is down to its reserve after {hours}."
        )
    }
    pub fn driving_short(short: &str) -> String {
        format!("Even driving, the alternator lacks {short} on average: the battery empties on the way.")
    }
    pub fn low_at_amplifier(volts: &str) -> String {
        format!(
            "At full power the amplifier's terminals fall to {volts}. Below 10.5 V (the highest lower limit of ISO 16750-2) \
            many amplifiers switch off."
        )
    }
    pub fn not_copper(metal: &str) -> String {
        format!("What you weighed or measured is {metal}, not copper. The sizes above do not hold for it.")
    }
    pub fn not_as_sold(size: &str) -> String {
        format!(
            "This is no {size} copper: clad aluminium, or thinner than sold. Enter both mass and millivolts to tell which."
        )
    }
    pub fn thin_copper(percent: &str, size: &str) -> String {
        format!(
            "The cable has {percent} of the copper that {size} should have. Take it as the size that it is."
        )
    }
}

/// First power, step by step, and the sheet for the vehicle's owner.
#[allow(missing_docs)]
pub mod powerup {
    pub const TITLE: &str = "First power, step by step";
    pub const OPEN: &str = "Open the steps";
    pub const ABOUT: &str = "In this order, nothing left out. Local rules and the vehicle's maker come first; what you are not \
        licensed for, leave to those who are.";
    pub const ALL_DONE: &str = "Every step is cleared. Print the sheet for the vehicle's owner.";
    pub const LIST: &str = "All steps";
    pub const EXPECT: &str = "expected";
    pub const READ: &str = "You read";
    pub const SEEN: &str = "What do you see?";
    pub const KEEP: &str = "Keep and judge";
    pub const OPEN_LINE: &str = "Open (OL)";
    pub const SIGN: &str = "Sign +/−";
    pub const BACK: &str = "Back";
    pub const NEXT: &str = "Next step";
    pub const OVERRULE: &str = "Go on all the same…";
    pub const LEAVE_OUT: &str = "Leave this step out…";
    pub const REASON: &str = "Reason, kept with the job";
    pub const RECORD: &str = "Record the reason";
    pub const START_AGAIN: &str = "Begin again from step 1";
    pub const HELD: &str = "An earlier step is not cleared yet. Clear it first.";
    pub const BAD: &str = "This is no reading in this unit: digits with one decimal point or comma.";
    pub const FULL: &str =
        "The job's log is full; nothing more is kept. Copy the design and go on in the copy.";
    pub const NOT_KNOWN: &str = "not known yet";
    pub const OPEN_WORD: &str = "open";
    pub const VERDICT_RIGHT: &str = "Right. Go on.";
    pub const STATE_OPEN: &str = "to do";
    pub const STATE_HELD: &str = "held";
    pub const STATE_RIGHT: &str = "right";
    pub const STATE_AGAIN: &str = "look again";
    pub const STATE_STOP: &str = "stop";
    pub const STATE_OVERRULED: &str = "overruled";
    pub const STATE_LEFT_OUT: &str = "left out";
    pub const SETTINGS: &str = "Settings and fuse, for the sheet";

    // Steps: name, what to do, what is wrong otherwise.
    pub const ROUTE: &str = "Route and panels";
    pub const ROUTE_DO: &str =
        "Follow the cable's whole route by eye and hand before anything is drilled, pulled or moved.";
    pub const GAIN_LOW: &str = "Gain at its minimum";
    pub const GAIN_LOW_DO: &str = "Turn the gain all the way down, bass boost off, remote wire of the amplifier off. Filters as planned.";
    pub const BATTERY_OFF: &str = "Battery off";
    pub const BATTERY_OFF_DO: &str = "Ground cable off the battery first, tied away and covered. Main fuse out. Wait as long as the \
        vehicle's maker asks before you touch its connectors.";
    pub const INSULATION: &str = "Insulation of the feed";
    pub const INSULATION_DO: &str = "Fuse out, + cable off the amplifier. Read from the + cable to bare metal of the body while someone moves \
        the cable along its route.";
    pub const ENDS: &str = "Polarity of the feed";
    pub const ENDS_DO: &str = "With the meter's buzzer: the cable for the amplifier's + must ring to the empty fuse holder only, the one for \
        − to the body or battery minus only. Then join both to the amplifier.";
    pub const LOAD: &str = "Resistance of the load";
    pub const LOAD_DO: &str = "Loudspeaker line unplugged from the amplifier, cones still. Read across the line, as in the meter check; its \
        last reading counts here. Leave the line unplugged.";
    pub const LAMP: &str = "First power through a lamp";
    pub const LAMP_DO: &str = "A 21 W, 12 V filament lamp (no LED) with insulated clips across the empty fuse holder. Remote wire off. Battery \
        ground on last, face away from the battery. Watch the lamp.";
    pub const IDLE: &str = "Current without a signal";
    pub const IDLE_DO: &str = "Lamp off, meter in its 10 A socket across the empty fuse holder. Now the remote wire on, no music. Read once it \
        stands still.";
    pub const SUPPLY: &str = "Voltage at the amplifier";
    pub const SUPPLY_DO: &str = "Meter back to volts, leads out of the 10 A socket. Main fuse in. Outdoors, engine on (or the vehicle ready to drive). Read at the amplifier's + and \
        − screws, the red probe on +.";
    pub const OFFSET: &str = "DC at the output";
    pub const OFFSET_DO: &str =
        "Loudspeaker still unplugged, no music. Read DC across the amplifier's output.";
    pub const TONE: &str = "First tone, quiet";
    pub const POLARITY: &str = "Which way the cones move";
    pub const POLARITY_DO: &str = "Amplifier off, line unplugged from it. Touch a 1.5 V cell to the line for a moment, + to +, and watch or feel \
        every cone.";
    pub const GAIN: &str = "Set the gain";
    pub const BACK_DROP: &str = "Lost on the way back at power";
    pub const FUSE_DROP: &str = "Lost over the main fuse at power";
    pub const FUSE_DROP_DO: &str = "The same tone, for seconds. Read DC volts across the main fuse with its holder, one probe on each cable.";

    pub const TERMINALS: &str = "Voltage at the amplifier at power";
    pub const TERMINALS_DO: &str =
        "The same tone, for seconds. Read DC volts at the amplifier's own + and − screws, metal to metal.";

    pub fn tone_do(hertz: Option<&str>) -> String {
        let hertz = hertz.map_or_else(|| "40".into(), str::to_owned);
        format!(
            "Amplifier off, plug the loudspeaker in, amplifier on. A {hertz} Hz tone, source near zero, gain still at its minimum. Up slowly until it is just heard."
        )
    }
    pub fn gain_do(volts: Option<&str>) -> String {
        let volts =
            volts.map_or_else(|| "the voltage known for this load".into(), |volts| format!("{volts} V"));
        format!(
            "Loudspeaker unplugged, engine running outdoors. A 40 Hz or 50 Hz tone recorded at full level, source at the loudest it plays clean. AC volts across the output; gain up from its minimum to {volts}."
        )
    }
    pub fn back_do(amperes: Option<&str>) -> String {
        let amperes = amperes.map_or_else(String::new, |amperes| format!(" (about {amperes} A)"));
        format!(
            "Amplifier off, loudspeaker in, amplifier on. The tone of the gain at full level{amperes}, five seconds at a time, ears protected. DC volts from the amplifier's − screw to the battery's minus post."
        )
    }

    // Cautions, in place.
    pub const CAUTION_HIGH_VOLTAGE: &str = "Orange cables carry hundreds of volts even when the vehicle is off: touch none, drill nowhere near. \
        Under-seat and pillar connectors (often yellow) belong to airbags and curtains: leave them joined, battery off or on.";
    pub const CAUTION_DRILL: &str = "Before drilling look behind the panel and under the floor: fuel and brake lines, looms, the tank. Stop the drill \
        with a collar.";
    pub const CAUTION_LATCHES: &str =
        "With the battery off, electric latches do not open: leave boot and a door open and the key outside.";
    pub const CAUTION_BATTERY: &str = "A spanner from + to body welds itself on and starts a fire. Rings and watch off, tools insulated, no flame near \
        the battery.";
    pub const CAUTION_ENGINE: &str = "Exhaust kills indoors, door open or not: run the engine outdoors only. Brake on, hands and leads clear of \
        belts and fans.";
    pub const CAUTION_AMPERE: &str =
        "Without the fuse the meter is the fuse: 10 A socket, no music, never across battery or body.";
    pub const CAUTION_OUTPUT: &str =
        "Neither output screw of a bridged or one-channel amplifier is ground: no probe to the body.";
    pub const CAUTION_LOADED: &str = "With the loudspeaker on, a full-level tone is loud at once and heats the coils within seconds; \
        this step works without it.";

    pub fn lamp_most(amperes: &str) -> String {
        format!(
            "Whatever is wrong behind it, the lamp lets at most about {amperes} A through (21 W at 12 V). It gets hot."
        )
    }
    /// Times at the level a meter set to A shows, then at the level itself.
    pub fn hearing(db: &str, hz: &str, dba: &str, weighted: [&str; 2], plain: [&str; 2]) -> String {
        format!(
            "Ear protection on: up to {db} dB at {hz} Hz, 1 m (louder in a cabin). A day of that: NIOSH {}, OSHA {}; by its {dba} dB(A), where bass reads low, {} and {}.",
            plain[0], plain[1], weighted[0], weighted[1]
        )
    }
    pub const HEARING_UNKNOWN: &str = "How loud is not known for this design. At 100 dB(A): NIOSH 15 min a day, OSHA 2 h. Ear protection at power.";
    pub const NO_LIMIT: &str = "no limit";
    pub const NO_TIME: &str = "none at all";

    // What may be seen.
    pub const AS_ASKED: &str = "Done, exactly so";
    pub const ROUTE_CLEAR: &str = "Clear: nothing orange, no airbag plug touched, behind panels looked at";
    pub const ENDS_RIGHT: &str = "+ rings to the fuse holder only, − to ground only";
    pub const ENDS_WRONG: &str = "The other way round, or + rings to ground";
    pub const NOT_SURE: &str = "No, or not sure";
    pub const BRIGHT: &str = "Stays bright";
    pub const DIMS: &str = "Glows, then dims out";
    pub const DARK: &str = "Stays dark";
    pub const FAINT: &str = "Goes on glowing faintly";
    pub const CLEAN: &str = "Clean and quiet";
    pub const SILENT: &str = "Nothing is heard";
    pub const NOISE: &str = "Hum, whine or hiss";
    pub const ROUGH: &str = "Rough, scraping, or a smell";
    pub const OUTWARD: &str = "Every cone outwards";
    pub const INWARD: &str = "Every cone inwards";
    pub const AGAINST: &str = "Cones or coils against one another";
    pub const HARDLY: &str = "Hardly moves";

    // What it means, where it is not right.
    pub const MEANS_ROUTE: &str =
        "Find out first: the vehicle maker's rescue card and workshop data show what lies where.";
    pub const MEANS_NOT_DONE: &str = "Do it first; what follows counts on it.";
    pub const MEANS_INSULATION_LOW: &str =
        "The + cable touches the body: find the chafed or pinched place. No power before it reads open.";
    pub const MEANS_INSULATION_SOME: &str =
        "Damp, dirt, or something still joined. Take everything off the cable and read again.";
    pub const MEANS_ENDS: &str =
        "Swapped ends destroy the amplifier at first power. Trace both cables and mark them.";
    pub const MEANS_LOAD: &str = "This is not the load as drawn. The meter check above names what it could be; nothing is powered before.";
    pub const MEANS_LOAD_CLOSE: &str = "Close, but not plainly the load as drawn: see the meter check above.";
    pub const MEANS_UNSTABLE: &str =
        "This wiring is below what the amplifier stands. Wire the coils otherwise first.";
    pub const MEANS_BRIGHT: &str =
        "A short: cable, amplifier, or swapped ends. Ground off at once; go back to insulation.";
    pub const MEANS_DARK: &str = "Nothing flows: an open cable, the lamp itself, ground not on, or capacitors already full. Try the lamp on the battery.";
    pub const MEANS_FAINT: &str =
        "Something goes on drawing: the remote wire is on, or another thing hangs on this cable.";
    pub const MEANS_IDLE_HIGH: &str = "Far more than this amplifier rests at: remote off, ground off, look for a fault in it or at its output.";
    pub const MEANS_IDLE_ODD: &str =
        "Is it switched on, and is nothing else on this cable? Compare with its data sheet.";
    pub const MEANS_SUPPLY_STOP: &str =
        "No 12 V system in order reads so; a minus means swapped ends. Amplifier off.";
    pub const MEANS_SUPPLY_ODD: &str = "Engine running? A battery sensor may hold the charge back; else a joint loses it. Compare at the battery's posts.";
    pub const MEANS_OFFSET: &str = "The amplifier pushes DC: it would hold the cone off its middle and heat the coil. Do not plug the loudspeaker in.";
    pub const MEANS_OFFSET_ODD: &str = "More than usual. Wait a minute and read again, inputs unplugged.";
    pub const MEANS_SILENT: &str =
        "Source, remote, filter, a plug; or coils against one another, which cancel: see the next step.";
    pub const MEANS_NOISE: &str =
        "A poor ground, or signal cables along the feed. Does it follow the engine's speed?";
    pub const MEANS_ROUGH: &str = "Off at once. A rubbing coil, a loose part, or a wrong load.";
    pub const MEANS_INWARD: &str =
        "The line is turned over: swap its two ends at the amplifier, and touch again.";
    pub const MEANS_AGAINST: &str = "A coil is turned over: parts cancel and the amplifier sees a wrong load. Rewire by the steps of the drawing.";
    pub const MEANS_HARDLY: &str = "A weak cell, a poor contact, or coils that cancel each other.";
    pub const MEANS_GAIN_HIGH: &str =
        "Too much: over 20 % more power than planned, or clipping. Turn it down.";
    pub const MEANS_GAIN_ODD: &str =
        "Not the voltage planned. Below it is safe and quieter; above it turn down.";
    pub const MEANS_DROP: &str =
        "A joint burns more than 10 W. Off; feel for the warm one, clean it to bare metal, tighten it.";
    pub const MEANS_DROP_ODD: &str =
        "More than cable and fuse lose by themselves: some joint is poor. Probe along the path.";
    pub const MEANS_TERMINALS: &str = "Not what cable, fuse and supply explain. Read the battery's posts at the same tone; what is missing in between is a joint.";
    pub const MEANS_NOT_KNOWN: &str = "Nothing to compare with: the design does not say what to expect.";

    pub const FROM_DESIGN: &str = "from this design";
    pub const FROM_DESIGN_PRACTICE: &str = "from this design; width of the band: common practice, no source";
    pub const FROM_MAKER: &str =
        "from the maker's idle current; half to one and a half times: common practice, no source";
    pub const FROM_PRACTICE: &str = "common practice, no source";
    pub const FROM_ISO: &str =
        "supply entered ± 0.7 V (common practice); stop outside 10.5 to 16 V (ISO 16750-2)";

    pub const FROM_ISO_VARIES: &str = "what a voltage-varying alternator leaves at the battery (from memory); stop outside 10.5 to 16 V (ISO 16750-2)";
    pub const FROM_ISO_POWER: &str = "supply entered less cables and fuse as planned, ± 0.7 V (common practice); stop outside 10.5 to 16 V (ISO 16750-2)";
    pub const THROUGH_BODY: &str = " through the body";

    pub fn step_of(number: usize, count: usize) -> String {
        format!("Step {number} of {count}")
    }
    pub fn to(low: &str, high: &str) -> String {
        format!("{low} to {high}")
    }
    pub fn at_least(low: &str) -> String {
        format!("open, or above {low}")
    }
    pub fn up_to(high: &str) -> String {
        format!("up to {high}")
    }
    pub fn reason(reason: &str) -> String {
        format!("Reason: {reason}")
    }
    pub fn lost(expected: &str, at: &str, way: &str) -> String {
        format!("By itself up to {expected} at {at} A{way}; more is a joint.")
    }

    // The sheet.
    pub const SHEET: &str = "Sheet for the vehicle's owner";
    pub const PRINT: &str = "Print this sheet";
    pub const PRINT_FAILED: &str = "This browser does not print from a page. Use its own menu.";
    pub const SHEET_ABOUT: &str =
        "Keep it with the vehicle's papers; give it to whoever works on the vehicle or its battery.";
    pub const JOB: &str = "Job";
    pub const VEHICLE: &str = "Vehicle";
    pub const PARTS: &str = "Driver, amplifier";
    pub const DATE: &str = "Date";
    pub const MAIN_FUSE: &str = "Main fuse";
    pub const FUSE_AT: &str = "Its place";
    pub const FUSE_AT_UNKNOWN: &str = "at the battery: write here ____________________";
    pub const MAIN_CABLE: &str = "Feed, out and back";
    pub const MAIN_CABLE_BODY: &str = "Feed, back through the body";
    pub const FURTHER_FUSE: &str = "Further fuse";
    pub const AT_DISTRIBUTION: &str = "at the distribution";
    pub const AT_BOTH_BATTERIES: &str = "one at each battery";
    pub const AT_BATTERY: &str = "at the battery";
    pub const LINE_CABLE: &str = "Loudspeaker cable";
    pub const GAIN_SET: &str = "Gain";
    pub const FILTERS: &str = "Low-pass, high-pass";
    pub const POLARITY_SET: &str = "Polarity";
    pub const WIRED: &str = "Coils wired";
    pub const STEP: &str = "step";
    pub const FOUND: &str = "read or seen";
    pub const VERDICT: &str = "verdict";
    pub const WHEN: &str = "when";
    pub const SHEET_BATTERY: &str = "Take this fuse out before you work on the battery, the feed or the amplifier. Replace it only by the same rating; \
        a larger one does not protect the cable.";
    pub const SHEET_LOUD: &str = "Loud bass harms hearing without sounding loud.";
    pub const SHEET_LAW: &str = "Worked out from what was entered, checked by the readings above. No approval by any authority; local rules and the \
        vehicle maker's instructions come first.";

    pub fn volts_ac(volts: &str, watts: &str, load: &str) -> String {
        format!("{volts} V AC at the output, loudspeaker off ({watts} W into {load} Ω)")
    }
    pub fn further_fuse(fuse: &str, place: &str, cable: &str, segment: &str) -> String {
        format!("{fuse} {place}, protects the {cable} {segment}")
    }
    pub fn fuse_cable(fuse: &str, cable: &str) -> String {
        format!("{fuse}, protects the {cable} cable")
    }
    pub fn run(size: &str, metres: &str, metal: &str) -> String {
        format!("{size}, {metres} one way, {metal}")
    }
}

/// Where the probes go at first power and along the feed.
#[allow(missing_docs)]
pub mod power_drawing {
    pub const BATTERY: &str = "battery";
    pub const AMPLIFIER: &str = "amplifier";
    pub const FIRST_AMPLIFIER: &str = "one amplifier of two";
    pub const AMPLIFIER_OUTPUT: &str = "amplifier's output";
    pub const PLUG_PULLED: &str = "line's plug, pulled";
    pub const BODY: &str = "body";
    pub const OFF: &str = "off";
    pub const FUSE_OUT: &str = "fuse out";
    pub const LAMP_SHORT: &str = "lamp";
    pub const CELL: &str = "1.5 V cell";
    pub const CELL_HOW: &str = "for a moment, + to + and − to −";
    pub const ROUTE: &str = "the way of the cable, and where its fuses sit";
    pub const BATTERY_OFF: &str = "battery minus off, main fuse out";
    pub const KILOOHMS: &str = "meter: ohms, its highest range";
    pub const BUZZER: &str = "+ cable, meter on its buzzer: must ring here";
    pub const BUZZER_MINUS: &str = "− cable, meter on its buzzer: must ring here";
    pub const LAMP: &str = "21 W, 12 V lamp across the holder";
    pub const AMPERES: &str = "meter: DC amperes, leads in the 10 A socket";
    pub const MILLIAMPERES: &str = "meter: DC amperes, in the minus cable";
    pub const DC_VOLTS: &str = "meter: DC volts";
    pub const DC_MILLIVOLTS: &str = "meter: DC millivolts";
    pub const AC_VOLTS: &str = "meter: AC volts";
    pub const BRIDGED: &str = "the two posts printed for bridged use";
    pub const STRAPPED: &str = "from one amplifier's post to the other's";
    pub const AT_BATTERY_PLUS: &str = "battery plus post";
    pub const AT_BATTERY_MINUS: &str = "battery minus post";
    pub const AT_GROUND_END: &str = "end of the ground cable taken off";
    pub const AT_FUSE_BATTERY: &str = "main fuse holder, battery side";
    pub const AT_FUSE_FAR: &str = "main fuse holder, amplifier side";
    pub const AT_DISTRIBUTION: &str = "distribution, where the main cable ends";
    pub const AT_PLUS_END: &str = "end of the plus cable at the amplifier";
    pub const AT_MINUS_END: &str = "end of the minus cable at the amplifier";
    pub const AT_AMPLIFIER_PLUS: &str = "amplifier's supply plus";
    pub const AT_AMPLIFIER_MINUS: &str = "amplifier's supply minus";
    pub const AT_BODY: &str = "bare metal of the body";
    pub const AT_OUTPUT_PLUS: &str = "amplifier's output plus";
    pub const AT_OUTPUT_MINUS: &str = "amplifier's output minus";

    pub fn fuse(rating: &str) -> String {
        if rating.is_empty() { "main fuse".into() } else { format!("fuse {rating}") }
    }
    pub fn plan_row(name: &str, fuse: &str, cable: &str) -> String {
        format!("{name}: fuse {fuse}, cable {cable}")
    }
}

/// The guided meter check.
#[allow(missing_docs)]
pub mod guide {
    pub const TITLE: &str = "Meter check, guided";
    pub const BACK: &str = "Back to the Car";
    pub const SAFE: &str = "Main fuse out, amplifier unplugged from this line, cones still.";
    pub const ASK_LEADS: &str = "Touch the probes to each other.";
    pub const ASK_LINE_AMPLIFIER: &str = "Probes on the two wires of the pulled amplifier plug.";
    pub const ASK_LINE_BOX: &str = "Probes on the two box terminals, cable pulled off.";
    pub const EITHER_WAY: &str = "Either way round reads the same.";
    pub const EXPECT: &str = "should read";
    pub const READ: &str = "you read";
    pub const LEADS_BELOW: &str = "below 1 Ω";
    pub const MINUS: &str = "One count less";
    pub const PLUS: &str = "One count more";
    pub const OPEN: &str = "Open (OL)";
    pub const KEEP: &str = "Keep, go on";
    pub const COILS_FIRST: &str = "Each coil by itself first";
    pub const LINE_NOW: &str = "Go to the joined line";
    pub const AGAIN: &str = "Start again";
    pub const LINE_AGAIN: &str = "Read the line again";
    pub const LEADS_GOOD: &str = "Good leads; taken off every reading from now on.";
    pub const LEADS_HIGH: &str = "Much for leads: clean the tips, press harder, or try the other leads.";
    pub const LEADS_OPEN: &str = "The probes do not touch, or a lead is broken.";
    pub const COIL_SOUND: &str = "What this coil should read.";
    pub const COIL_OPEN: &str = "This coil is open: do not fit this driver.";
    pub const COIL_SHORTED: &str = "This coil is shorted: do not fit this driver.";
    pub const COIL_OTHER: &str =
        "Not the coil entered: another version, a bad contact, or still joined to another.";
    pub const LAST: &str = "Before:";
    pub const LEFT: &str = "Left to consider";
    pub const OVERRULE: &str = "Go on all the same, because";
    pub const OVERRULE_KEY: &str = "Overrule, keep the reason";
    pub const OVERRULED: &str = "Overruled:";
    pub const KEPT: &str = "Readings kept";
    pub const REMARK: &str = "Remark";
    pub const SUBJECT_LEADS: &str = "leads shorted";
    pub const SUBJECT_LINE: &str = "joined line";
    pub const SUBJECT_BOX: &str = "box terminals";
    pub const SUBJECT_OVERRULED: &str = "overruled";
    pub const SUBJECT_QUICK: &str = "quick check";
    pub const SUBJECT_START: &str = "first power begun again";
    pub const UNSEEN_TITLE: &str = "What no resistance shows";
    pub const UNSEEN_LINE: &str = "plus and minus of the whole line swapped";
    pub const CELL: &str = "Small cell: touch a 1.5 V cell to the line for a moment, plus to plus. Every cone must jump outward.";
    pub const TONE: &str = "Quiet tone: once powered, play the box's resonance at the lowest level. Coils that work against each other stay silent and draw \
        full current: stop at once.";
    pub const DRAWING: &str = "Where the probes go";
    pub const RED: &str = "R: red lead";
    pub const BLACK: &str = "B: black lead";
    pub const PLUG: &str = "plug of the amplifier, pulled";
    pub const CUP: &str = "box terminals, cable off";
    pub const TO_BOX: &str = "to the box";
    pub const TO_AMPLIFIER: &str = "line";

    pub fn done(read: &str) -> String {
        format!("Done: the line reads {read}.")
    }
    pub fn ask_alone(coil: &str) -> String {
        format!("Coil {coil} by itself: nothing joined to its + and −.")
    }
    pub fn ask_across(coil: &str) -> String {
        format!("Across coil {coil}, everything left joined.")
    }
    pub fn coil_warm(kelvin: &str) -> String {
        format!("Right for a coil {kelvin} K above the room. Let it cool and read again.")
    }
    pub fn subject_across(coil: &str) -> String {
        format!("across coil {coil}")
    }
    pub fn subject_alone(coil: &str) -> String {
        format!("coil {coil} alone")
    }
    pub fn driver(number: &str) -> String {
        format!("driver {number} from behind")
    }
    pub fn unseen_coil(coil: &str) -> String {
        format!("coil {coil} with + and − swapped")
    }
    pub fn unseen_driver(number: &str) -> String {
        format!("all coils of driver {number} with + and − swapped")
    }
    pub fn tone_at(hz: &str) -> String {
        format!("For this box: {hz} Hz.")
    }
    pub fn joined(coils: usize, wiring: &str) -> String {
        if coils == 1 { "one coil behind it".into() } else { format!("{coils} coils behind it: {wiring}") }
    }
}

/// Sheets, saw, templates, bench.
#[allow(missing_docs)]
pub mod cutting {
    pub const SHEET_WIDTH: &str = "Sheet width";
    pub const SHEET_LENGTH: &str = "Sheet length";
    pub const SHEET_PRICE: &str = "Price of a sheet";
    pub const EDGE_TRIM: &str = "Trim off each edge";
    pub const GRAIN: &str = "Grain";
    pub const GRAIN_NONE: &str = "none, turn freely";
    pub const GRAIN_LONG: &str = "along each piece's length";
    pub const OTHER_WIDTH: &str = "Other sheet, width";
    pub const OTHER_LENGTH: &str = "Other sheet, length";
    pub const OTHER_PRICE: &str = "Other sheet, price";
    pub const OFFCUT_WIDTH: &str = "Offcut, width";
    pub const OFFCUT_LENGTH: &str = "Offcut, length with the grain";
    pub const SECOND_OFFCUT_WIDTH: &str = "Second offcut, width";
    pub const SECOND_OFFCUT_LENGTH: &str = "Second offcut, length";
    pub const TURNS: &str = "Cuts change direction";
    pub const TURNS_ANY: &str = "as often as it pays";
    pub const TURNS_THREE: &str = "twice at most";
    pub const TURNS_TWO: &str = "once";
    pub const SAW_REACH: &str = "Fence reaches to";
    pub const LEAST_RIDE: &str = "Shortest edge on the fence";
    pub const ROUTER_BIT: &str = "Router bit";
    pub const GUIDE_BUSH: &str = "Guide bush, outside";
    pub const PAPER: &str = "Paper for templates";
    pub const DRIVER_WEIGHT: &str = "Weight of one driver";
    pub const BOLT_CIRCLE: &str = "Bolt circle";
    pub const BOLT_COUNT: &str = "Bolts";
    pub const INSERT: &str = "Hole for a threaded insert";
    pub const MODULUS: &str = "Board stiffness E, GPa";
    pub const FILL: &str = "Fill, grams per litre";

    pub const STOCK: &str = "Sheets, offcuts, saw, router";
    pub const BENCH_ENTRIES: &str = "Driver weight and bolts, stiffness, fill";
    pub const LAYOUT: &str = "Sheet layout";
    pub const LAYOUT_DRAWING: &str = "Sheet with its pieces and numbered cuts";
    pub const WORKING: &str = "Laying out…";
    pub const PROVED: &str =
        "Proved: no layout of edge-to-edge cuts costs less, and none as cheap leaves a longer offcut.";
    pub const SHEET: &str = "sheet";
    pub const OTHER_SHEET: &str = "other sheet";
    pub const OFFCUT: &str = "offcut";
    pub const TRIM_CUT: &str = "trim";
    pub const OFFCUT_OFF: &str = "leaves an offcut";
    pub const ACROSS: &str = "across";
    pub const ALONG: &str = "along";
    pub const BILL: &str = "Bill of materials";
    pub const BILL_ABOUT: &str =
        "Glue at 175 g/m² on every joint, screws every 150 mm: common practice, no source.";
    pub const COST: &str = "sheets together";
    pub fn sheets_of(board: &str) -> String {
        format!("sheets of {board}")
    }
    pub const ALL_SHEETS: &str = "all sheets together";
    /// Prices that a total waits for.
    pub fn no_total(prices: &str) -> String {
        format!("No total price yet; missing: {prices}.")
    }
    pub const GLUE: &str = "wood glue";
    pub const SCREWS: &str = "screws or brads";
    pub const SEAM: &str = "sealant, inside seams";
    pub const GASKET: &str = "gasket, all drivers";
    pub const TERMINALS: &str = "terminal plate or cup";
    pub const INSERTS: &str = "threaded inserts and bolts";
    pub const STRIP_BLANK: &str = "strip blank";

    pub const REACH: &str =
        "Wider than the fence reaches: guide rail and hand-held saw, or measure from the other edge.";
    pub const SHORT_RIDE: &str =
        "Short edge on the fence: carry the piece on a sled or a carrier board, not along the fence alone.";
    pub const NARROW: &str = "Narrow: push block, and never the fence and the mitre gauge together.";
    pub const STEEP: &str = "The blade of most saws leans to 45° only: stand the strip upright against a tall fence with a carrier behind it, the \
        blade at what is missing to 90°, or leave these strips out.";
    pub const FIRST_SHEETS: &str = "Sheets come apart first, in the order of the sheet layout: long strips, then their crosscuts. Each piece \
        then rides on its longer edge.";

    pub const DETAILS: &str = "Holes, rebates, windows";
    pub const DETAIL_ABOUT: &str = "Template hole: as large as the hole for a bit with a bearing; with a guide bush larger by bush less bit.";
    pub const TEMPLATE_HOLE: &str = "template";
    pub const HOLE_DRIVER: &str = "driver";
    pub const HOLE_RECESS: &str = "flange recess";
    pub const HOLE_RADIATOR: &str = "radiator's cut-out";
    pub const HOLE_PORT: &str = "port";
    pub const HOLE_TERMINAL: &str = "terminals";
    pub const HOLE_WINDOW: &str = "window";
    pub const HOLE_PIN: &str = "pin";
    pub const THROUGH: &str = "through";
    /// What follows the size of a tube's hole.
    #[must_use]
    pub fn rounded_mouth(radius: &str) -> String {
        format!(
            "; with the tube glued in flush, outer edge rounded over to R\u{a0}{radius}, bearing in the bore"
        )
    }
    /// The same where the front is too thin.
    #[must_use]
    pub fn mouth_too_round(radius: &str, front: &str) -> String {
        format!("; R\u{a0}{radius} is more than the front's {front}: glue a ring on before rounding over")
    }

    pub const TEMPLATES: &str = "Templates at full size";
    pub const TEMPLATES_ABOUT: &str = "One unit is one millimetre. Print the pages at 100 %, measure the bar, then join the pages on the dashed lines.";
    pub const SAVE_SVG: &str = "SVG";
    pub const SAVE_DXF: &str = "DXF";
    pub const SAVE_PAGES: &str = "Save pages to print";
    pub const PRINT: &str = "Print this sheet";
    pub const OPEN_ALL: &str = "Open every part";
    pub const PRINT_ABOUT: &str = "Whatever is open above goes on paper.";

    pub const BENCH: &str = "Weight and bench checks";
    pub const WOOD: &str = "boards, holes taken off";
    pub const TOTAL: &str = "with drivers";
    pub const CENTRE: &str = "centre of gravity: from front, left, underside";
    pub const DIAGONAL_FRONT: &str = "outside diagonals of the front";
    pub const DIAGONAL_SIDE: &str = "outside diagonals of the sides";
    pub const DIAGONAL_LOWER: &str = "outside diagonal of the sides, from the lower front";
    pub const DIAGONAL_UPPER: &str = "outside diagonal of the sides, from the upper front";
    pub const DIAGONAL_TOP: &str = "outside diagonals of the top";
    pub const DIAGONAL_BOTTOM: &str = "outside diagonals of the bottom";
    pub const CHORD: &str = "bolt to bolt, straight";
    pub const TO_CUTOUT: &str = "insert to cut-out";
    pub const TO_EDGE: &str = "insert to flange edge";
    pub const PRESSURE: &str = "most pressure in the box";
    pub const FORCE: &str = "force on the largest panel";
    pub const SAG: &str = "sag in its middle; with a brace";
    pub const MODE: &str = "its first resonance; with a brace";
    pub const FILL_MASS: &str = "fill";
    pub const BENCH_ABOUT: &str = "Panels as thin plates held only at their edges, from one board to the next, braces included; a side that is no rectangle as \
        the rectangle around it. Glued edges hold better. Stiffness 3 GPa is from memory; enter your \
        board's. Pressure in a closed box at the largest travel; a port lowers it.";
    pub const FILL_ABOUT: &str = "Fill makes a closed box act larger, by 1.4 times at the very most and usually far less. Keep it off the driver and out of ports.";
    pub const AIR_LEFT: &str = "Air left of the board between";
    pub const AIR_RIGHT: &str = "Air right of it";
    pub const UNBRACED: &str = "The largest panel resonates where the box plays. A brace half way along its longer side lifts that to";

    pub fn sheets(count: usize) -> String {
        if count == 1 { "1 sheet or offcut".into() } else { format!("{count} sheets or offcuts") }
    }
    pub fn found(least: usize) -> String {
        format!("Found by trying, not proved; any layout takes at least {least} full sheets.")
    }
    pub fn cut(way: &str, fence: &str) -> String {
        format!("{way} at {fence}")
    }
    pub fn gives(what: &str) -> String {
        format!("gives {what}")
    }
    pub fn left_over(sizes: &str) -> String {
        format!("Left over: {sizes}.")
    }
    pub fn strip_setting(table: &str) -> String {
        format!(
            "Blade leans away from the fence, wide face up: the long point is the upper edge. The fence then stands {table} from the blade at \
             the table. Cut a test strip first and measure its wide face."
        )
    }
    pub fn piece(key: &str) -> String {
        match key.strip_prefix("front ") {
            Some("0") => "front, outer layer".into(),
            Some(_) => "front, inner layer".into(),
            None => key.into(),
        }
    }
    pub fn page_foot(title: &str, place: &str, of: usize) -> String {
        format!("{title}, page {place} of {of}; the bar is 100 mm long")
    }
    pub fn deep(depth: &str) -> String {
        format!("{depth} deep")
    }
    pub fn open_window(size: &str, radius: &str) -> String {
        format!("{size}, open to the floor, upper corners {radius}")
    }
    pub fn uneven(percent: &str) -> String {
        format!(
            "The two halves differ by {percent} % in air: their drivers work unalike. Put what stands on one side in the middle of both, or fill the larger half."
        )
    }
    pub fn heavy(mass: &str) -> String {
        format!(
            "{mass} kg: two people lift it (23 kg is the most for one in the NIOSH lifting equation, from memory)."
        )
    }
    pub fn crash(force: &str) -> String {
        format!(
            "Held against 20 g, as FMVSS 207 asks of seats, the fixings carry {force} kN. That is a figure for scale, no approval: thin sheet \
             metal and board pull through before a bolt breaks, so use backing plates on both sides, and never seat-belt or child-seat anchors."
        )
    }
}

/// Find a box.
#[allow(missing_docs)]
pub mod find {
    pub const TITLE: &str = "Find a box";
    pub const ABOUT: &str = "Looks through everything that fits the space with this driver and amplifier: volume, tuning, pipe. \
        Each wish counts from 0, not at all, to 10.";
    pub const REACH: &str = "reaches low";
    pub const LEVEL: &str = "plays loud";
    pub const EVEN: &str = "stays even";
    pub const SMALL: &str = "takes little room";
    pub const TIGHT: &str = "stops soon";
    pub const LOW: &str = "Wanted from";
    pub const TOP: &str = "Played up to";
    pub const BAND: &str = "Frequencies that count";
    pub const RUN: &str = "Look for boxes";
    pub const AGAIN: &str = "Look again";
    pub const CANCEL: &str = "Stop looking";
    pub const PROGRESS: &str = "How far the search is";
    pub const CHANGED: &str = "The design has changed since; look again.";
    pub const NONE: &str = "No box with this driver fits the space.";
    pub const FAILED: &str = "The search stopped. Try again.";
    pub const RANKED: &str = "Boxes that fit, best for these wishes first";
    pub const TAKE: &str = "Take this box";
    pub const TAKEN: &str = "The box is in the design. Undo brings the old one back.";
    pub const NOT_TAKEN: &str = "The design has changed: this box no longer goes together. Look again.";
    pub const TRADE: &str = "Volume against reach";
    pub const TRADE_ABOUT: &str =
        "The best box for these wishes at each volume. Tap a point, or move along by the arrow keys.";
    pub const POINT: &str = "Box read";
    pub const VOLUME_AXIS: &str = "outside, litres";
    pub const REACH_AXIS: &str = "reach, Hz";
    pub const LEANING: &str = ", back leaning";
    pub const CLOSED: &str = "Closed";
    pub const VENTED: &str = "Vented";
    pub const RADIATOR: &str = "Passive radiator";
    pub const BANDPASS: &str = "Band-pass";
    pub const BANDPASS_OUTWARD: &str = "Band-pass with two ports outward";
    pub const BANDPASS_INWARD: &str = "Band-pass with a port inward";
    pub const BEST: &str = "serves the wishes best";
    pub const LOWEST: &str = "reaches lowest here";
    pub const LOUDEST: &str = "plays loudest";
    pub const MOST_EVEN: &str = "most even";
    pub const SMALLEST: &str = "smallest";
    pub const TIGHTEST: &str = "stops soonest";
    pub const BY_VOLTAGE: &str = "the amplifier's voltage";
    pub const BY_CURRENT: &str = "the coil's heat";
    pub const BY_TRAVEL: &str = "cone travel";
    pub const BY_PORT: &str = "air speed in the pipe";
    pub const BY_RADIATOR: &str = "the radiator's travel";
    pub const NOTE: &str = "Reach: 3 dB under its own mean over the octave below the top. Loudness: what travel, air at 17 m/s, \
        coil and amplifier allow everywhere in the band, half space at 1 m. Pipes are straight, drivers, pipes and radiators in the front; a band-pass has its rooms side by side, the driver between them.";
    pub const STARTS: &str = "Published alignments to begin with";
    pub const CRITICAL: &str = "closed, Qtc 0.50, critically damped";
    pub const BESSEL: &str = "closed, Qtc 0.58, flattest delay";
    pub const BUTTERWORTH: &str = "closed, Qtc 0.71, flattest level";
    pub const FULL: &str = "closed, Qtc 1.00, rise of 1.2 dB";
    pub const QUASI: &str = "vented, quasi-Butterworth";
    pub const BUTTERWORTH4: &str = "vented, Butterworth";
    pub const CHEBYSHEV: &str = "vented, Chebyshev";
    pub const STARTS_SOURCE: &str =
        "Small 1972 and 1973, vented at QL 7; coil inductance and cable left out.";

    pub fn searched(boxes: &str, points: usize) -> String {
        format!("{boxes} boxes looked at, each at {points} frequencies.")
    }
    pub fn reach(hertz: &str) -> String {
        format!("reaches {hertz}\u{a0}Hz")
    }
    pub fn level(decibels: &str) -> String {
        format!("{decibels}\u{a0}dB in the band")
    }
    pub fn bound(what: &str, hertz: &str) -> String {
        format!("no louder for {what} at {hertz}\u{a0}Hz")
    }
    pub fn ripple(decibels: &str) -> String {
        format!("±{decibels}\u{a0}dB")
    }
    pub fn delay(periods: &str) -> String {
        format!("delay {periods} periods")
    }
    pub fn radiators(count: u32, grams: &str, tuning: &str) -> String {
        let radiators = if count == 1 { "One radiator".to_owned() } else { format!("{count} radiators") };
        format!("{radiators}, {grams}\u{a0}g added to each, tuned to {tuning}\u{a0}Hz")
    }
    pub fn before(front: &str, pipe: &str) -> String {
        format!("{front} of it before the driver; {pipe}")
    }
    pub fn behind(before: &str, pipe: &str) -> String {
        format!("{before}; behind the driver {pipe}")
    }
    pub fn pipe(count: u32, diameter: &str, length: &str, tuning: &str) -> String {
        let times = if count > 1 { format!("{count} × ") } else { String::new() };
        format!("pipe {times}⌀ {diameter}, about {length} long, tuned to {tuning}\u{a0}Hz")
    }
    pub fn start(net: &str, tuning: Option<&str>, f3: &str) -> String {
        let tuned = tuning.map_or_else(String::new, |hertz| format!(", tuned to {hertz}\u{a0}Hz"));
        format!("{net}{tuned}, f3\u{a0}{f3}\u{a0}Hz")
    }
    pub fn outside(litres: &str) -> String {
        format!("{litres} outside")
    }
    pub const QUESTION: &str = "What this box asks for";
    pub fn qtc(qtc: &str, net: &str) -> String {
        format!("Qtc {qtc} asks for {net} net, which the space holds.")
    }
    pub fn qtc_large(qtc: &str, net: &str, here: &str) -> String {
        format!("Qtc {qtc} asks for {net} net, more than the space holds: the largest box gives {here}.")
    }
    pub fn qtc_low(qtc: &str, qts: &str) -> String {
        format!("No closed box has a Qtc of {qtc}: the driver's own Qts is {qts}.")
    }
    pub fn tuning(hertz: &str, net: &str) -> String {
        format!("{hertz}\u{a0}Hz in {net}")
    }
    pub fn port(wanted: &str, length: &str) -> String {
        format!("{wanted} asks for {length} of this port, which goes in.")
    }
    pub fn port_high(wanted: &str, here: &str) -> String {
        format!(
            "{wanted} is too high for this port: as short as the front it gives {here}\u{a0}Hz. Take a wider one."
        )
    }
    pub fn port_long(wanted: &str, length: &str, longest: &str, ways: &str) -> String {
        format!(
            "{wanted} asks for {length} of this port; {longest} goes in straight. Any of these would do: {ways}."
        )
    }
    pub fn way_pipe(count: u32, diameter: &str, length: &str) -> String {
        let times = if count > 1 { format!("{count} pipes") } else { "a pipe".to_owned() };
        format!("{times} ⌀ {diameter}, {length} long")
    }
    pub fn way_tuning(hertz: &str) -> String {
        format!("tuned to {hertz}\u{a0}Hz")
    }
    pub fn way_volume(net: &str) -> String {
        format!("{net} net")
    }
    pub fn way_area(percent: &str) -> String {
        format!("{percent}\u{a0}% of the area, with the air as much faster")
    }
}

/// Slack.
#[allow(missing_docs)]
pub mod slack {
    pub const TITLE: &str = "Slack";
    pub const CUT: &str = "Every cut, more or less";
    pub const FS: &str = "fs, more or less";
    pub const QTS: &str = "Qts, more or less";
    pub const VAS: &str = "Vas, more or less";
    pub const AIR: &str = "Air left by fill and fittings, more or less";
    pub const LOSSES: &str = "Leakage and absorption, times or divided by";
    pub const ABOUT: &str = "Nine in ten of 240 boxes, each quantity anywhere within these limits, lie in the shaded bands. The limits of \
        driver data are usual ones (common practice, no source).";
    pub const NONE: &str = "Waits for the curves.";
    pub const WORKING: &str = "Working it out.";
    pub const SPREAD: &str = "Nine in ten between";

    pub fn between(low: &str, high: &str) -> String {
        format!("{low} to {high}")
    }
}

/// Enclosures in depth: entries, limits, signal path, cabin.
#[allow(missing_docs)]
pub mod acoustics {
    pub const COIL_MODEL: &str = "Coil beyond Re";
    pub const COIL_PLAIN: &str = "Le alone";
    pub const COIL_TWO: &str = "Le, then L2 beside R2";
    pub const COIL_POWER: &str = "k·(jω)ⁿ (Leach)";
    pub const COIL_SEMI: &str = "semi-inductance";
    pub const L2: &str = "Second inductance, L2";
    pub const R2: &str = "Resistance beside L2, R2";
    pub const COIL_FACTOR: &str = "Factor k, Ω·sⁿ";
    pub const COIL_EXPONENT: &str = "Exponent n";
    pub const LEB: &str = "Inductance in series, Leb";
    pub const KE: &str = "Semi-inductance Ke, Ω·√s";
    pub const RSS: &str = "Shunt, Rss";
    pub const THERMAL_RESISTANCE: &str = "Coil to air, K per W";
    pub const THERMAL_TIME: &str = "Magnet's time constant, s";
    pub const STUFFING: &str = "Stuffing: acts larger by";
    pub const PORT_ENDS: &str = "Port ends";
    pub const SLOT_BENDS: &str = "Slot too long for the depth";
    pub const SLOT_STRAIGHT: &str = "stays straight";
    pub const SLOT_ONE_BEND: &str = "bends up the back";
    pub const SLOT_TWO_BENDS: &str = "bends up the back and along the top";
    pub const ENDS_USUAL: &str = "tube free inside, slot on the floor";
    pub const ENDS_FLUSH: &str = "flush at both ends";
    pub const ENDS_FREE: &str = "free at both ends";
    pub const ENDS_CORNER: &str = "slot in a corner";
    pub const ENDS_FLARED: &str = "tube flared at both ends";
    pub const ENDS_FLARED_OUTSIDE: &str = "tube flared outside, free inside";
    pub const ENDS_SAME: &str = "as the port behind the cones";
    pub const FLARE: &str = "Flare radius";
    pub const FRONT_PORT_ENDS: &str = "Ends of the port before the cones";
    pub const FRONT_FLARE: &str = "Flare radius before the cones";
    pub const FRONT_NET: &str = "Net volume before the cones";
    pub const FRONT_TUNING: &str = "Tuning before the cones";
    pub const FRONT_PORT: &str = "Port before the cones, diameter";
    pub const FRONT_PORT_SHAPE: &str = "Port before the cones";
    pub const FRONT_SLOT_HEIGHT: &str = "Slot before the cones, height";
    pub const FRONT_PORT_LENGTH: &str = "Port before the cones, length";
    pub const FRONT_PORTS: &str = "Ports before the cones";
    pub const RADIATORS: &str = "Passive radiators";
    pub const RADIATOR_AREA: &str = "Radiator area, each";
    pub const RADIATOR_MASS: &str = "Radiator moving mass, each";
    pub const RADIATOR_FS: &str = "Radiator resonance";
    pub const RADIATOR_Q: &str = "Radiator Qms";
    pub const RADIATOR_WEIGHT: &str = "Weight added to each";
    pub const RADIATOR_XMAX: &str = "Radiator travel one way";
    pub const RADIATOR_CUT_OUT: &str = "Radiator cut-out diameter";
    pub const RADIATOR_OUTSIDE: &str = "Radiator outside diameter";
    pub const RADIATOR_DEPTH: &str = "Radiator depth, with its travel";
    pub const RADIATOR_DISPLACEMENT: &str = "Radiator volume behind the flange";
    pub const RADIATOR_PLACE: &str = "Radiators sit in";
    pub const PLACE_FRONT: &str = "the front";
    pub const PLACE_SIDES: &str = "the sides";
    pub const B12: &str = "12 dB, Butterworth";
    pub const B18: &str = "18 dB, Butterworth";
    pub const B24: &str = "24 dB, Butterworth";
    pub const LR12: &str = "12 dB, Linkwitz-Riley";
    pub const LR24: &str = "24 dB, Linkwitz-Riley";
    pub const HIGH_SLOPE: &str = "Slope of the high-pass";
    pub const LOW_SLOPE: &str = "Slope of the low-pass";
    pub const BAND_AT: &str = "Band at";
    pub const BAND_GAIN: &str = "Band lifted by, dB";
    pub const BAND_Q: &str = "Band Q";
    pub const SHELF_AT: &str = "Shelf below";
    pub const SHELF_GAIN: &str = "Shelf lifted by, dB";
    pub const CABIN_LENGTH: &str = "Cabin length";
    pub const CABIN_CORNER: &str = "Cabin corner, if measured";
    pub const CABIN_LEAK: &str = "Cabin leaks below";
    pub const CABIN_BODY: &str = "Cabin";
    pub const BODY_CLOSED: &str = "closed, hard roof";
    pub const BODY_SOFT: &str = "soft top";
    pub const BODY_OPEN: &str = "window open";
    pub const FLOOR_GAP: &str = "Fires down: gap to the floor";
    pub const FLOOR_WINDOWS: &str = "Openings between the legs, total";

    pub const NO_BOX: &str = "An infinite baffle needs no box: seal the baffle to the body all round, so that front and back air never meet.";

    pub const FS: &str = "fs, free air";
    pub const QTS: &str = "Qts";
    pub const CABIN: &str = "in the cabin";
    pub const RADIATOR: &str = "radiator travel, peak";
    pub const AIR_REAR: &str = "rear port air, peak";
    pub const AIR_FRONT: &str = "front port air, peak";
    pub const CHART_RADIATOR: &str = "Travel of each passive radiator, one way";
    pub const CHART_CEILING: &str = "Greatest level at 1 m, half space";
    pub const CHART_INTAKE: &str = "Power taken, and current";
    pub const POWER: &str = "power";
    pub const CURRENT: &str = "current";
    pub const CHART_FILTER: &str = "Signal path";
    pub const FILTER: &str = "gain";
    pub const CHART_STEP: &str = "Pressure after a voltage step";
    pub const STEP: &str = "pressure";
    pub const CEILING: &str = "What gives first when it is loud";
    pub const PATH: &str = "Filters";
    pub const CABIN_FOLD: &str = "In the cabin";
    pub const SEVERAL_PORTS: &str = "Several ports are counted as if they stood far apart. Mouths side by side share some air and tune lower: by about 3 % for two 100 mm pipes of 200 mm whose middles are 120 mm apart (each adds ρ/2πd outside the wall and half of that inside to the other; an estimate). Cut them a little long and trim by the impedance.";
    pub const CABIN_ABOUT: &str = "A simple model: 12 dB per octave below the corner, flattened by leaks and soft bodywork. Real cabins differ by several dB; only a measurement tells.";
    pub const COIL_FOLD: &str = "Coil model and heat";
    pub const COIL_ABOUT: &str = "Parameters per sheet, in the connection it was measured. Power law: Leach, JAES 50 (2002) 442. Semi-inductance Leb, Le, Ke, Rss: Thorborg and Futtrup, JAES 59 (2011) 612.";
    pub const DOWN_FOLD: &str = "Fires at the floor";
    pub const AS_SVG: &str = "SVG";
    pub const AS_PNG: &str = "PNG";
    pub const AS_CSV: &str = "CSV";
    pub const THIS_DESIGN: &str = "this design";
    pub const LESS_THAT_OF: &str = "Difference from";
    pub fn less_that_of(name: &str) -> String {
        format!("Level, less that of {name}")
    }
    pub const COMPARE_FOLD: &str = "Compare with other designs";
    pub const COMPARE_ABOUT: &str =
        "Up to three of your stored designs beside this one, each at its own drive.";
    pub const COMPARE_NONE: &str =
        "No other design is stored. Copy this one under \"design\", change the copy, and come back.";
    pub const COMPARE_NOT: &str = "That design has no curves yet.";
    pub const SAVE_FOLD: &str = "Save the charts";
    pub fn save_as(kind: &str, title: &str) -> String {
        format!("Save as {kind}: {title}")
    }

    pub const CONE: &str = "cone travel";
    pub const RADIATOR_LIMIT: &str = "radiator travel";
    pub const PORT: &str = "port air speed";
    pub const COIL: &str = "coil heat";
    pub const VOLTAGE: &str = "amplifier voltage";
    pub const AMPLIFIER_CURRENT: &str = "amplifier current";
    pub const SAG: &str = "cone sags, axis upright";
    pub const GAP_MASS: &str = "air in the gap adds to each cone";
    pub const GAP_SHIFT: &str = "free resonance moves";
    pub const GAP_PEAKS: &str = "resonance in the box moves";
    pub const GAP_PEAKS_TUNED: &str = "impedance peaks in the box move, its tuning stays";
    pub const GAP_LEAST: &str = "least gap";
    pub const WARMING: &str = "coil warms at the drive, steady";
    pub const COMPRESSION: &str = "level lost by it";
    pub const COMPRESSION_100: &str = "level lost at 100 K above 20 °C";
    pub const HEAT_TIME: &str = "time constant";
    pub const HEAT_UNKNOWN: &str = "How warm the coil gets is unknown: enter its thermal resistance.";
    pub const CEILING_UNKNOWN: &str =
        "Nothing is known that limits it: enter Xmax, the coils' power or the amplifier's ratings.";

    pub fn first(below: &str, what: &str) -> String {
        format!("Below {below} Hz {what}")
    }
    pub fn throughout(what: &str) -> String {
        format!("From bottom to top {what}")
    }
    pub const CONE_FIRST: &str = "the cone runs out of travel first";
    pub const RADIATOR_FIRST: &str = "the passive radiators run out of travel first";
    pub const PORT_FIRST: &str = "the port gets noisy first";
    pub const COIL_FIRST: &str = "the coils get too hot first";
    pub const VOLTAGE_FIRST: &str = "the amplifier's voltage ends it first";
    pub const CURRENT_FIRST: &str = "the amplifier's current ends it first";
    pub fn add_high_pass(sentence: &str, corner: &str) -> String {
        format!("{sentence}: add a high-pass of 24 dB at {corner} Hz.")
    }
    pub fn high_pass_holds(sentence: &str, corner: &str) -> String {
        format!("{sentence}; the high-pass at {corner} Hz keeps it within its travel at full voltage.")
    }
    pub fn filters_hold(sentence: &str) -> String {
        format!("{sentence}; the filters keep it within its travel at full voltage.")
    }
    pub fn raise_high_pass(sentence: &str, corner: &str, (low, high): (&str, &str), enough: &str) -> String {
        format!(
            "{sentence}; at full voltage the high-pass at {corner} Hz still lets it go too far from {low} to {high} Hz: set it to {enough} Hz."
        )
    }
    pub fn high_pass_fails(sentence: &str, corner: &str, (low, high): (&str, &str)) -> String {
        format!(
            "{sentence}; at full voltage the high-pass at {corner} Hz still lets it go too far from {low} to {high} Hz: use a steeper slope, or less voltage."
        )
    }
    pub fn from_to(low: &str, high: &str) -> String {
        format!("{low} to {high} Hz")
    }
    pub fn at_volts(stretch: &str, volts: &str) -> String {
        format!("{stretch}, at {volts} V")
    }
    pub fn shift(from: &str, to: &str) -> String {
        format!("{from} to {to}")
    }
    pub fn radiator_travel(travel: &str, at: &str, limit: &str) -> String {
        format!(
            "The passive radiators travel {travel} mm at {at} Hz and are good for {limit} mm. Use a second or a larger one, or a high-pass."
        )
    }
    pub fn clipped(at: &str) -> String {
        format!(
            "The filters ask for more than the amplifier's voltage near {at} Hz: it clips there, and the curves stay at its limit. Take the lift back or drive it less."
        )
    }
    pub fn sag(sag: &str, share: &str) -> String {
        format!(
            "Firing down, the cone sags {sag} mm, {share} % of its travel one way. Above about 5 % choose a stiffer driver, or turn it over once a season."
        )
    }
    pub fn floor_gap(gap: &str, least: &str) -> String {
        format!(
            "The gap to the floor is {gap}; it wants {least}, so that the cone can move and the air get out."
        )
    }
}

/// Boxes whose sides are no rectangles.
#[allow(missing_docs)]
pub mod shape {
    pub const TITLE: &str = "Shape";
    pub const SHAPE: &str = "Shape of the sides";
    pub const RECTANGLE: &str = "rectangle";
    pub const SLANTED_BACK: &str = "back leans forward (wedge)";
    pub const SLANTED_FRONT: &str = "front leans back";
    pub const BOTH_SLANTED: &str = "front and back lean";
    pub const STEP_ABOVE: &str = "step: less deep at the top";
    pub const STEP_BELOW: &str = "step: less deep at the bottom";
    pub const TOP_DEPTH: &str = "Depth along the top";
    pub const SETBACK: &str = "Front's upper edge stands back by";
    pub const STEP_HEIGHT: &str = "Step, height above the underside";
    pub const STEP_DEPTH: &str = "Depth of the part less deep";
    pub const JOINT: &str = "Joints of the back";
    pub const FRONT_JOINT: &str = "Joints of the front";
    pub const OVER: &str = "it covers the ends";
    pub const BETWEEN: &str = "it stands between";
    pub const SPACE_TOP_DEPTH: &str = "Free depth at the top, if less";
    pub const ABOUT: &str = "Depth is that along the underside, or of the deeper part. Without a depth along the top the back \
        leans as the space does. Passive radiators in the sides, and drivers in a divider, sit where these have most room.";
    pub const FACES: &str = "The sides cover all other boards and follow the template. Bevelled boards are listed from long \
        point to long point: the size of the square blank.";
    pub const EDGE: &str = "edge";
    pub fn corners(corners: &str) -> String {
        format!("corners, depth / height: {corners}")
    }
    pub const TO_TEMPLATE: &str = "edge to the template, both sides together";

    pub const FRONT_END: &str = "front end";
    pub const REAR_END: &str = "rear end";
    pub const LOWER_END: &str = "lower end";
    pub const UPPER_END: &str = "upper end";
    pub const OUTSIDE_FACE: &str = "outside face";
    pub const INSIDE_FACE: &str = "inside face";
    pub const SLOT_FACE: &str = "face in the slot";
    pub const ROOM_FACE: &str = "face out of the slot";

    pub const UP_FRONT: &str = "up the front";
    pub const UP_BACK: &str = "up the back";
    pub const ALONG_BOTTOM: &str = "along the bottom";
    pub const ALONG_TOP: &str = "along the top";
    pub const ACROSS_FRONT_LOW: &str = "across, front and bottom";
    pub const ACROSS_FRONT_HIGH: &str = "across, front and top";
    pub const ACROSS_BACK_LOW: &str = "across, back and bottom";
    pub const ACROSS_BACK_HIGH: &str = "across, back and top";
    pub const ONE_END: &str = "one end";
    pub const BOTH_ENDS: &str = "both ends";
    pub fn oblique(which: &str, gauge: &str, blade: &str) -> String {
        format!("{which} oblique, lying on its wide face: mitre gauge {gauge}°, blade {blade}°")
    }
    pub fn bevel(end: &str, degrees: &str, face: &str) -> String {
        format!("{end} bevelled {degrees}°, long point on the {face}")
    }
    pub const PARALLEL: &str = "both ends lean alike: turn it over, not only end for end";
    pub fn setting(size: &str) -> String {
        format!(
            "Blade leaning away from the fence: at the table the fence stands at {size}, the long point is above. \
             Cut a test piece, check angle and length, then these."
        )
    }
    pub fn inside(what: &str, size: &str) -> String {
        format!("{what}, within {size}")
    }
    pub fn down(end: &str, face: &str) -> String {
        format!("{end}, {face} down")
    }
}

/// The space as measured: stations, corner-to-corner lengths, what is kept free.
#[allow(missing_docs)]
pub mod space {
    pub const KEY_ENDS: &str = "Chain line: where the space ends.";
    /// What is hatched beside the box.
    pub fn key_kept(names: &str) -> String {
        format!("Hatched between dashes: kept free ({names}).")
    }
    pub fn radius(radius: &str) -> String {
        format!("R\u{a0}{radius}")
    }
    pub fn key_mouth(radii: &str, unit: &str) -> String {
        format!("Arcs at the port: its mouth rounded over to R\u{a0}{radii}\u{a0}{unit}.")
    }
    pub const MEASURE: &str = "Measure the space: straight edge, corners, angle";
    pub const KEEP_FREE: &str = "Keep free: arches, spare wheel, lid";
    pub const SIDE: &str = "Side stations: height, free depth";
    pub const PLAN: &str = "Plan stations: depth, left, right";
    pub const FLOOR_DIAGONAL: &str = "Floor, front left to rear right corner";
    pub const FLOOR_OTHER: &str = "Floor, front right to rear left corner";
    pub const DOOR_DIAGONAL: &str = "Hatch, lower left to upper right corner";
    pub const DOOR_OTHER: &str = "Hatch, lower right to upper left corner";
    pub const RECLINE: &str = "Seat back leans from upright, degrees";
    pub const ARCHES: &str = "Wheel arches";
    pub const LEFT: &str = "left";
    pub const RIGHT: &str = "right";
    pub const BOTH: &str = "left and right";
    pub const ARCH_SHAPE: &str = "Shape of the arches";
    pub const ARCH_BOX: &str = "square";
    pub const ARCH_ROUNDED: &str = "rounded on top";
    pub const ARCH_WIDTH: &str = "Arch stands in from the side by";
    pub const ARCH_HEIGHT: &str = "Arch height above the floor";
    pub const ARCH_FROM: &str = "Front limit to where the arch begins";
    pub const ARCH_LENGTH: &str = "Arch length, front to back";
    pub const WELL: &str = "Spare-wheel well";
    pub const WELL_FREE: &str = "keep free above";
    pub const WELL_USED: &str = "empty, reach in";
    pub const WELL_FROM: &str = "Front limit to the middle of the well";
    pub const WELL_ACROSS: &str = "Left limit to the middle of the well";
    pub const WELL_WIDTH: &str = "Well diameter";
    pub const WELL_DEPTH: &str = "Well depth below the floor";
    pub const LID_FROM: &str = "Lid hinge, behind the front limit by";
    pub const LID_HEIGHT: &str = "Lid hinge, above the floor by";
    pub const LID_REACH: &str = "Lid or its arm reaches from the hinge";
    pub const LID_ARM: &str = "Only at both sides, each so wide";
    pub const KEEP_OUT: &str = "Another body to keep free";
    pub const LOOK: &str = "Drivers' face looks";
    pub const LOOK_ALONG: &str = "forward or back";
    pub const LOOK_UP: &str = "up";
    pub const LOOK_DOWN: &str = "down";
    pub const LOOK_ASIDE: &str = "to a side";
    pub const LOOK_ABOUT: &str = "The box is drawn and cut as if its drivers looked forward; width, height and depth are its own. In the \
        car it lies turned.";
    pub const LOOK_GAP: &str = "Looking down it needs a gap: enter it on the Desk under \"Fires at the floor\", or make it a test box, whose \
        sides are its legs.";
    pub const IN_THE_CAR: &str = "as it lies in the car, width × height × depth";
    pub const FROM_LEFT: &str = "Box stands from the left limit by";
    pub const FROM_FRONT: &str = "Box stands behind the front limit by";

    pub const ABOUT_STATIONS: &str = "The front limit is where the front of the box looks. Hold a straight edge upright there, or along the floor \
        from front to back, and read off what is free: 0 620; 200 600; 450 510. On the plan left and right of the edge, or one number for both. Numbers are mm; for inches begin with in: \
        in 0 24-1/2; 8 23-5/8.";
    pub const ABOUT_KEEP: &str = "Another body: from and to in depth, width from the left and height, such as 0 150 400 600 0 90. Or by its corners: \
        across 0 900: 0 0, 120 0, 0 80 runs across with corners in depth and height; up has corners in depth and width, back in width and height. In mm, or begin with in.";
    pub const RINGS_STAND: &str = "Stacked rings stand on their bottom, width along the width of the space. A bay in their outline counts as full.";
    pub const BEHIND: &str = "limit behind";
    pub const REAR: &str = "rear edge of the floor";
    pub const LEFT_SIDE: &str = "left limit";
    pub const RIGHT_SIDE: &str = "right limit";
    pub const LEFT_ARCH: &str = "left wheel arch";
    pub const RIGHT_ARCH: &str = "right wheel arch";
    pub const ABOVE_WELL: &str = "room above the spare wheel";
    pub const LID_SWEEP: &str = "sweep of the lid";
    pub const SEAT: &str = "seat back";
    pub fn own(number: u8) -> String {
        format!("body {number} kept free")
    }
    pub const FRONT: &str = "front";
    pub const BACK: &str = "back";
    pub const TOP: &str = "top";
    pub const BOTTOM: &str = "underside";
    pub fn hit(what: &str, face: &str, over: &str) -> String {
        format!("The box comes too near to the {what}: at its {face} it must give way by {over}.")
    }
    pub const SIDE_VIEW: &str = "From the left side";
    pub const PLAN_VIEW: &str = "From above";
    pub const DRAWN: &str = "The space with the box in it; hatched is kept free";
    pub const STANDS: &str = "Box stands behind the front limit, from the left";
    pub fn gap(what: &str) -> String {
        format!("Gap to the {what}")
    }
    pub const NO_GAP: &str = "none";
    pub const SQUARE: &str = "Out of square by, over its depth";
    pub const TRUE_RECTANGLE: &str = "Largest true rectangle on the floor, width × depth";
    pub const HATCH_RECTANGLE: &str = "Largest true rectangle in the hatch, width × height";
    pub const LARGEST: &str = "Largest block clear of everything, width × height × depth";
    pub const TOP_BY_GAUGE: &str = "By the angle gauge the free depth at the top is";
    pub const WELL_GIVES: &str = "The well takes a block of, width × depth × height";
    pub const OUTSIDE_VOLUME: &str = "The box takes outside";
    pub fn miss(by: &str) -> String {
        format!(
            "Sides and diagonals differ by {by} along a diagonal: a slip of the tape, or opposite sides are unequal. Measure again."
        )
    }
    pub const ABOUT: &str = "Gaps are exact for blocks and slants; what is round counts as the polygon around it, at most 0.1 % of its radius too \
        large. The box is put where it clears most unless its place is typed.";
}

/// The test box: legs, blocks, plugs, rings for smaller drivers.
#[allow(missing_docs)]
pub mod testbox {
    pub const LEG_WINDOW: &str = "leg window";
    pub const TITLE: &str = "Test box";
    pub const TEST_BOX: &str = "Sides reach down as legs";
    pub const NO: &str = "no";
    pub const YES: &str = "yes, a test box";
    pub const LEGS: &str = "Leg height";
    pub const LEGS_NEED: &str = "Leg height the driver asks for";
    pub const WINDOW: &str = "Window in each leg";
    pub const WINDOW_WIDTH: &str = "Leg window, width";
    pub const CORNER: &str = "Leg window, corner radius";
    pub const RAIL: &str = "Wood below the leg window";
    pub const TARGET: &str = "Stands in for a box of";
    pub const SMALL_CUT_OUT: &str = "Smaller driver, cut-out";
    pub const SMALL_OUTSIDE: &str = "Smaller driver, outside diameter";
    pub const DOOR_WIDTH: &str = "Door or hatch, free width";
    pub const DOOR_HEIGHT: &str = "Door or hatch, free height";
    pub const DOOR_GAP: &str = "Room for hands around the box";
    pub const FEET: &str = "Each foot";
    pub const OPENINGS: &str = "Windows and open ends";
    pub const CONES: &str = "Cones";
    pub const TIPS: &str = "Falls over soonest when tilted by";
    pub const BLOCKS: &str = "Blocks to put in";
    pub const BLOCK_AT: &str = "One lies from the left, up, behind the front by";
    pub const BLOCK_BOARD: &str = "block";
    pub const ROUND: &str = "sawn square, then routed round";
    pub const BLOCKS_TAKE: &str = "They take";
    pub const BLOCKS_LEAVE: &str = "Net volume with them";
    pub const RING: &str = "adapter ring, outside and hole";
    pub const PLUGS: &str = "Port plugs, outside and in the bore";
    pub const PLUG_INSIDE: &str = "port plug, disc in the bore";
    pub const PLUG_OUTSIDE: &str = "port plug, disc in front";
    pub const ABOUT: &str = "The legs are as high as a quarter of the cone's diameter (then the gap around it is as large as the cone), \
        as its travel and 25 mm, as windows and open ends take to be as large as the cones, and as a window's corners and a hand above \
        the wood below it take, whichever is most. All but the first are common practice, no source. All six faces are flat: it stands on each.";
    pub const BLOCKS_ABOUT: &str = "Put in before the driver, in this order: straight through its hole, then across. Places are counted from the inside walls. \
        Thick blocks are airtight boxes of board, thin ones are glued in layers; hold them so that they cannot rattle or reach the cone.";
    pub const CLOSED_IN: &str = "Windows and open ends together are smaller than the cones: the floor muffles it. Make the legs higher.";
    pub const THIN_RING: &str = "The ring leaves less than 10 mm of wood to screw to on one side.";
    pub const WIDE_FLANGE: &str = "The smaller driver's flange stands over the ring's edge.";
    pub const ON_LEGS: &str = "on its legs";
    pub const ON_BACK: &str = "on its back";
    pub const ON_LEFT: &str = "on the left side";
    pub const ON_RIGHT: &str = "on the right side";
    pub const ON_BOTTOM: &str = "on the underside";
    pub const ON_TOP: &str = "on the top";

    pub fn low(height: &str) -> String {
        format!("The driver asks for legs of {height}.")
    }
    pub fn falls(face: &str, degrees: &str) -> String {
        format!(
            "Standing {face} it falls over at {degrees}°; 10° is what equipment is tested at (IEC 62368-1, from memory). Hold it or let it stand otherwise."
        )
    }
    pub fn no_door(by: &str) -> String {
        format!(
            "The box does not go through the door or hatch entered, however it is turned: {by} too large on each side. Make it smaller or take another way in."
        )
    }
    pub fn stuck(by: &str) -> String {
        format!(
            "It does not pass the door, however it is turned: it would have to be {by} smaller on each side of its best face."
        )
    }
    pub fn goes(first: &str, spare: &str) -> String {
        format!(
            "It passes the door with its {first} first, with {spare} to spare on each side beyond the room for hands."
        )
    }
}

/// What stands on the box and what must stay free.
#[allow(missing_docs)]
pub mod clearance {
    pub const TITLE: &str = "Clearances: wrap, grille, cone, air";
    pub const WRAP: &str = "Wrap with its glue, by calipers";
    pub const GASKET: &str = "Gasket, pressed";
    pub const FLANGE: &str = "Flange thickness";
    pub const GRILLE: &str = "Front to outside of the grille";
    pub const GRILLE_THICKNESS: &str = "Grille thickness";
    pub const FIXING: &str = "Feet or brackets behind the back";
    pub const SURROUND: &str = "Surround stands out before the flange by";
    pub const TRAVEL: &str = "Mechanical travel one way";
    pub const IN_FRONT: &str = "Front to the next thing in the vehicle";
    pub const WATER: &str = "Odd hollow, kg of water in bags";
    pub const WARMING: &str = "Amplifier beside it: air may warm by, K";
    pub const BODIES: &str = "Amplifiers beside the box";
    pub const BODY_LENGTH: &str = "Amplifier length";
    pub const BODY_WIDTH: &str = "Amplifier width";
    pub const BODY_HEIGHT: &str = "Amplifier height with its feet";
    pub const BODY_PLACE: &str = "Amplifiers lie";
    pub const ELSEWHERE: &str = "elsewhere";
    pub const IN_GAP: &str = "in the gap under the driver";
    pub const OVER_BOX: &str = "on top of the box";
    pub const ROLL: &str = "Carpet or vinyl, roll width";
    pub const SEAM: &str = "Turned in at each edge";
    pub const ROOM_FOR: &str = "Room for amplifiers beside cones and ports / wanted";
    pub const OVER_THEM: &str = "Free over them";
    pub const OPENING: &str = "Opening in and as much out, air at 0.5 m/s";
    pub const WRAP_AREA: &str = "Wrap on the outside faces";
    pub const WRAP_LENGTH: &str = "Length off the roll, turned-in edges included";
    pub const ABOUT_WRAP: &str = "Off the roll the faces lie side by side in strips across it, turned where that is shorter; no pile direction is kept.";
    pub const ABOUT_BODIES: &str = "Amplifiers keep 10 mm from flanges, ports, walls and each other, and 20 mm of air over their fins (common practice, \
        no source). Lay them so that gain and fuses can be reached with the box in place.";
    pub fn no_bodies(fit: u32, wanted: u32) -> String {
        format!(
            "Only {fit} of {wanted} amplifiers go beside the cones and ports: choose another place or a larger box."
        )
    }
    pub fn no_air(left: &str) -> String {
        format!("Over the amplifiers {left} are left; their fins want 20 mm (common practice, no source).")
    }
    pub const NOT_ON_ROLL: &str =
        "A face with its turned-in edges is wider than the roll both ways: it takes a seam.";
    pub const OVER_ALL: &str = "Box with everything on it, width × height × depth";
    pub const SPARE: &str = "Then left in the space";
    pub const TO_GRILLE: &str = "Surround to grille at mechanical travel";
    pub const BEFORE_CONE: &str = "Free before the cone / wanted";
    pub const BEFORE_PORT: &str = "Free before the port / wanted";
    pub const HOLLOW: &str = "The hollow holds";
    pub const HEAT: &str = "Amplifier's heat with music, an eighth of its power";
    pub const FLOW: &str = "Air that carries it off";
    pub const ABOUT: &str = "Before the cone a quarter of its diameter is wanted (derived), before a port its height or diameter (common practice). \
        Air flow is heat over density, heat capacity and warming. 1 kg of water in bags is 1 L.";
    pub const CONE_CLOSED_IN: &str = "Less is free before the cone than a quarter of its diameter: it is muffled. Move the box back or turn it.";
    pub const PORT_CLOSED_IN: &str = "Less is free before the port than it is high: it tunes lower and is heard. Move the box back or turn it.";
    pub const REACHABLE: &str = "Stays reachable with the box in place";
    pub const REACH: &[&str] = &[
        "pressure relief vents of the body are open",
        "spare wheel, jack and wheel brace come out",
        "child-seat anchors and top tether points are free",
        "seat-belt buckles and retractors run freely",
        "seat folds, reclines and slides as before",
        "gain, fuses and cooling fins of the amplifier can be got at",
    ];

    pub fn no_room(axis: &str, over: &str) -> String {
        format!("With everything on it the {axis} is {over} too large for the space.")
    }
    pub fn hits_grille(over: &str) -> String {
        format!("At its mechanical travel the surround runs into the grille by {over}.")
    }
    pub fn near_grille(gap: &str) -> String {
        format!(
            "Only {gap} between surround and grille at mechanical travel; cloth and bars give way: 5 mm (common practice, no source)."
        )
    }
}

/// Enclosures stacked from rings.
#[allow(missing_docs)]
pub mod rings {
    pub const TITLE: &str = "Stacked rings";
    pub const CONSTRUCTION: &str = "Built of";
    pub const BOARDS: &str = "boards";
    pub const RINGS: &str = "stacked rings";
    pub const SHAPE: &str = "Outline";
    pub const RECTANGLE: &str = "rectangle, round corners";
    pub const D: &str = "D, one side straight";
    pub const ELLIPSE: &str = "ellipse";
    pub const POLYGON: &str = "polygon";
    pub const TRACED: &str = "traced by stations";
    pub const WIDTH: &str = "Outline, width at the bottom";
    pub const DEPTH: &str = "Outline, depth at the bottom";
    pub const RADIUS: &str = "Radius of the corners";
    pub const SIDES: &str = "Sides of the polygon";
    pub const WALL: &str = "Width of the wood in a ring";
    pub const COUNT: &str = "Rings, without plates";
    pub const TOP_WIDTH: &str = "Width at the baffle, if different";
    pub const TOP_DEPTH: &str = "Depth at the baffle, if different";
    pub const FRONT: &str = "Boards in the baffle";
    pub const BACK: &str = "Boards in the bottom";
    pub const TRACE: &str = "Stations: along left right";
    pub const PINS: &str = "Pins that hold the rings in line";
    pub const PIN: &str = "Pin diameter";
    pub const IS_STACK: &str =
        "Stacked from rings: outlines, air and templates stand under Stacked rings on the Saw page.";
    pub const ABOUT: &str = "Air is each ring's opening times the board's thickness as measured: of 14 boards 0.3 mm too thick make 4 mm of height. \
        An ellipse is 48 arcs. No inside corner is sharper than the router's bit. Of a polygon the width and depth are those with its corners \
        rounded. Tubes go through a plate: beside the driver if there is room, otherwise through the bottom.";
    pub const TRACE_ABOUT: &str = "Lay a straight edge through the space; at each station note how far along it is, and the free way to its left and \
        right: 0 100 80; 150 140 90; 300 120 90. The clearance of the space is taken off all round. \
        In mm, or begin with in.";
    pub const LEDGER_AIR: &str = "air within the rings";
    pub const LEDGER_HOLES: &str = "gained in drivers' holes";
    pub const LEDGER_BODIES: &str = "drivers";
    pub const LEDGER_PORT: &str = "tubes";
    pub const LEDGER_NET: &str = "net, for the sound";
    pub const RING: &str = "ring";
    pub const BOTTOM_PLATE: &str = "bottom plate";
    pub const BAFFLE: &str = "baffle plate";
    pub const OUTER_BAFFLE: &str = "baffle plate, outer layer";
    pub const HEIGHT: &str = "Height of the stack";
    pub const COMMON: &str = "Least wood two rings share";
    pub const WEIGHT: &str = "Rings and plates";
    pub const CENTRE: &str = "centre of gravity: from left, front, underside";
    pub const PIN_BILL: &str = "pins";
    pub const STEP_BOTTOM: &str = "1. bottom";
    pub const STEP_RINGS: &str = "2. rings";
    pub const STEP_INSIDE: &str = "3. inside, while it is open";
    pub const STEP_BAFFLE: &str = "4. baffle";
    pub const BY_PINS: &str = "One ring after the other, glue on the whole upper face of what stands. The pins hold it in line; clamp all round, \
        every three or four rings (common practice), and wipe off what is pressed out inside.";
    pub const BY_EDGE: &str = "One ring after the other, glue on the whole upper face of what stands. Line each up with the one below by \
        template and edge; clamp all round, every three or four rings (common practice), and wipe off what is pressed out inside.";
    pub const INSIDE: &str = "Sand or rout the inside flush and seal it. Measure depth and opening: what is thicker or thinner than planned changes \
        the air. Fix terminals and, of a vented stack, the tube to its plate.";
    pub const PLAN: &str = "Outlines from above: full lines bottom, thin lines baffle, dots pins";
    pub const STACK: &str = "The stack";
    pub const NO_PINS: &str = "No straight pin runs through the wood of every ring: align each ring to the one below by the template.";
    pub const DRIVER_WIDE: &str = "The driver's hole runs into the wall of the uppermost ring.";
    pub const DRIVER_DEEP: &str = "The driver is deeper than the stack.";
    pub const LINE_WAITING: &str = "Outline, board and number of rings are needed before anything is cut.";
    pub const HOLES: &str = "Holes in the plates";
    pub const HOLE_AT: &str = "Centre from left, front";
    pub const BY_SOUND: &str = "as long as the tuning asks for, once the driver is entered";
    pub const DUST: &str = "Router: clamp the work, several passes, eyes and ears protected. This makes much dust: extraction and mask.";

    pub fn tube_long(length: &str, most: &str) -> String {
        format!(
            "The tube is {length} long and {most} go in: the stack's height less its own diameter of air before its inner end. \
             Tune higher, take a narrower tube or more rings."
        )
    }
    pub fn tube(number: u8) -> String {
        format!("{number} × port tube")
    }
    pub fn tube_bill(outer: &str, length: &str) -> String {
        format!("port tube: ⌀ {outer} outside, {length} long")
    }
    pub fn through(plate: &str) -> String {
        format!("through the {plate}")
    }
    pub fn mouth_below(diameter: &str) -> String {
        format!(
            "The tube opens through the bottom: leave at least {diameter} of air before it, on feet or with the stack on its \
             side (common practice, no source)."
        )
    }
    pub fn line(rings: usize, plates: u8, mass: &str, net: &str) -> String {
        let (ring, plate) = (if rings == 1 { "" } else { "s" }, if plates == 1 { "" } else { "s" });
        format!("{rings} ring{ring}, {plates} plate{plate}, {mass} kg of board; {net} net.")
    }
    pub fn laminate(boards: usize) -> String {
        match boards {
            1 => "One board: glue on the whole face where it meets the ring.".into(),
            _ => format!("{boards} boards: glue on the whole face of each, and where they meet the ring."),
        }
    }
    pub fn ring(number: usize) -> String {
        format!("ring {number} from the bottom")
    }
    pub fn rings(first: usize, last: usize) -> String {
        if first == last { ring(first) } else { format!("rings {first} to {last}") }
    }
    pub fn on_sheet(first: usize, last: usize) -> String {
        if first == last { format!("ring {first}") } else { "ring".into() }
    }
}

/// Putting the box together.
#[allow(missing_docs)]
pub mod assembling {
    pub const TITLE: &str = "Build order";
    pub const EXPLODED: &str = "Taken apart";
    pub const DRAWING: &str =
        "What stands after this step; what is new is drawn thick, where it is glued hatched";
    pub const EXPLODED_DRAWING: &str = "The box taken apart";
    pub const ABOUT: &str = "Worked out from the boards themselves: each piece goes on a straight way that is free, onto what stands, while all \
        others can still follow; where it gets glue is hatched. Dry-fit everything once, and compare the diagonals, before any glue.";
    pub const CLAMP: &str = "PVA glue: clamp each joint 30 min (30 to 90, as its label says), within 10 min of spreading it, not below 10 °C; full load \
        after 24 h. Give sawn edges of fibreboard a thin first coat.";
    pub const CAUTION: &str = "Saw and router: guard on, work clamped, hands behind the cut, eyes and ears protected. Wood dust harms the lungs: \
        extraction and mask, also when sanding. Each tool's own manual comes first.";
    pub const FIRST: &str = "Lies flat to begin with, its outer face down.";
    pub const NO_WAY: &str = "No straight way in is free: parts are in conflict here.";
    pub const FRONT: &str = "front";
    pub const BACK: &str = "back";
    pub const LEFT: &str = "left";
    pub const RIGHT: &str = "right";
    pub const BELOW: &str = "lower";
    pub const ABOVE: &str = "upper";
    pub const AFTER: &str = "When the glue is dry";
    pub const SEAL: &str = "Seal every inside seam while a hand still reaches it, before the last panel; let it air before drivers go in.";
    pub const TUBES: &str = "Seal the tubes where they go through the front.";
    pub const TERMINALS: &str = "Set the terminals into sealant and solder or clamp the wires.";
    pub const DRIVERS: &str = "Lay the gasket, set the drivers, tighten their screws crosswise.";

    pub fn comes_from(side: &str) -> String {
        format!("Comes from the {side} side.")
    }
    pub fn face_onto(face: &str, onto: &str) -> String {
        format!("{face} side to {onto}")
    }
    pub fn glue(faces: &str) -> String {
        format!("Glue: {faces}.")
    }
}

/// Placement trials in the car.
#[allow(missing_docs)]
pub mod trials {
    pub const TITLE: &str = "Find the best spot";
    pub const OPEN: &str = "Trials with a test box";
    pub const NONE_YET: &str = "No trial yet. Try one spot after the other: same seat, same volume, same meter or phone in the same place.";
    pub const CAUTION: &str = "Engine off, parked, nobody else inside. Start quiet, and never above 95 dB at the head: with hearing at \
        risk no trial is worth it.";
    pub const TOO_LOUD: &str =
        "A level above 95 dB was entered. Turn down: trials at 80 to 90 dB tell just as much.";
    pub const CANCELLING_FIRST: &str = "First: does the vehicle cancel noise in the cabin by itself? Such a system plays against a subwoofer and \
        spoils every reading. See the vehicle's manual.";
    pub const CANCELLING_STILL: &str = "The vehicle's own noise cancelling plays against the subwoofer: these readings are not the box. Have it \
        switched off the way the vehicle's maker provides, then measure.";
    pub const WEIGHTING_A: &str = "Not with A: it takes 50 dB off at 20 Hz and 19 dB at 100 Hz, so that the bass drowns in the meter's own \
        noise. Set the meter to C or Z, slow.";
    pub const WEIGHTING_OK: &str = "Third-octave sine tones, slow, meter at the head's place and untouched between spots. Background noise at \
        least 10 dB lower. The weighting is taken off.";

    pub const NEW: &str = "New trial";
    pub const SPOT: &str = "Spot";
    pub const SPOT_EXAMPLE: &str = "left corner";
    pub const AIM: &str = "Cone faces";
    pub const AIMS: [&str; 7] = ["up", "down", "front", "rear", "left", "right", "degrees"];
    pub const DEGREES: &str = "Clockwise from front";
    pub const SEAT: &str = "Listened at";
    pub const SEATS: [&str; 5] =
        ["driver's seat", "front passenger", "rear left", "rear right", "another place"];
    pub const STATE: &str = "Not closed, not upright";
    pub const STATES: [&str; 4] = ["top down", "windows open", "seats folded", "tailgate open"];
    pub const USED: &str = "Box used";
    pub const USED_EXAMPLE: &str = "test box";
    pub const NOTE: &str = "Remark";
    pub const ACROSS: &str = "from the left";
    pub const ALONG: &str = "from the front";
    pub const PLAN: &str = "Where it stands, seen from above; tap the plan";
    pub const SIDE: &str = "How high it stands, seen from the left; tap the sketch";
    pub const SIDE_SPOKEN: &str = "Side of the vehicle with the spots tried";
    pub const HEIGHT: &str = "from the floor up";
    pub const NOT_DEGREES: &str = "Not a number of degrees; it would count as 0.";
    pub const PLAN_SPOKEN: &str = "Plan of the vehicle with the spots tried";
    pub const FRONT: &str = "front";
    pub const BY: &str = "Levels from";
    pub const BY_TONES: &str = "tones and a meter";
    pub const BY_COLUMNS: &str = "a file or text";
    pub const WAYS: [&str; 3] = ["tones", "file", "sweep"];
    pub const PASTE: &str = "Frequency and level, one point a line, phase if there is one";
    pub const PICK: &str = "Open a text file";
    pub const PICK_FAILED: &str = "That file could not be read.";
    pub const COLUMN: &str = "Levels stand in";
    pub const ALL_COLUMNS: &str = "all columns, as takes";
    pub const ADD: &str = "Keep this trial";
    pub const FEW_LEVELS: &str = "Fill in at least six tones, those from 25 to 80 Hz first.";
    pub const NOT_A_LEVEL: &str = "Not a level between 0 and 140 dB.";
    pub const NO_SPOT: &str = "Give the spot a name first.";
    pub const FULL: &str = "This job holds as many trials as it can: delete some first.";

    pub const LIST: &str = "Trials";
    pub const REPEAT: &str = "Repeat";
    pub const LEAVE_OUT: &str = "Leave out";
    pub const COUNT_IN: &str = "Count again";
    pub const DELETE: &str = "Delete";
    pub const DELETE_SURE: &str = "Sure? Delete";
    pub const LEFT_OUT: &str = "left out";
    pub const UNNAMED: &str = "unnamed spot";

    pub const RANKING: &str = "Ranking";
    pub const WEIGHTS: &str = "What else counts";
    pub const WEIGHTS_ABOUT: &str =
        "The order is that of the level while both are 0. A hole counts from 10 dB on.";
    pub const IN_HAND_ASK: &str = "Enter the voltage that drove the test box, a sine of 50 Hz at the same volume, and what the designed box has in \
        hand at its limits is worked out.";
    pub const PLACE: &str = "spot";
    pub const LEVEL: &str = "level, dB";
    pub const SURE: &str = "±, dB";
    pub const HOLE: &str = "hole, dB";
    pub const SEATS_DIFFER: &str = "seats, dB";
    pub const RANKING_ABOUT: &str = "Level: mean under the loudest spot. Hole: furthest under the best of all spots, with its frequency. Seats: how \
        much the seats differ in shape. The microphone's own response changes none of them.";
    pub const PUT_BACK: &str =
        "± is from repeated trials: what moving box and phone away and back changes is in it.";
    pub const IN_A_ROW: &str = "± is from takes in a row. Move box and phone away and back and repeat two trials: only then is in it what that \
        changes.";
    pub const CURVES: &str = "The spots over one another";
    pub const CHART: &str = "Level at the seats, as measured";
    pub const CURVES_SHAPE: &str =
        "The shape includes the microphone: compare the curves, do not read them as absolute.";
    pub const RANGE: &str = "Frequencies compared";
    pub const NO_COMMON: &str =
        "These trials share too few frequencies to be compared. Measure at least 25 to 80 Hz in each.";

    pub const REAL_BOX: &str = "The real box in that spot";
    pub const REAL_BOX_ASK: &str = "Say which box the trials were made with, and the designed box is forecast at the seat: the cabin and the \
        microphone drop out.";
    pub const REAL_BOX_GAP: &str = "The forecast needs a complete driver and box on the Desk.";
    pub const TEST_BOX_LOST: &str =
        "The design named as test box is not in this browser. Enter the test box's volume instead.";
    pub const TEST_CLOSED: &str = "a closed box";
    pub const FORECAST_CHART: &str = "Level at the seats, both boxes";
    pub const MEASURED: &str = "test box, measured";
    pub const FORECAST: &str = "real box, forecast";
    pub const MOVED: &str = "The real box moves air elsewhere than the test box did: the band is wider.";

    pub const BAND: &str = "band";
    pub const ANGLE: &str = "angle";
    pub const TURN_GAIN: &str = "turned";
    pub const POLARITY_LEAVE: &str = "Leave the polarity: sub and front speakers add up.";
    pub const POLARITY_TURN: &str =
        "Turn the polarity of the subwoofer: they work against each other. Measure again after.";
    pub const POLARITY_NO_MATTER: &str = "The polarity hardly matters here: less than 1 dB either way.";

    pub fn only(spot: &str) -> String {
        format!("{spot} is the only spot so far: a second one tells more.")
    }
    pub fn beats(first: &str, second: &str, by: &str, half_width: Option<&str>) -> String {
        match half_width {
            Some(half) => format!("{first} beats {second} by {by} ± {half} dB."),
            None => format!("{first} beats {second} by {by} dB; repeat a trial to know how sure that is."),
        }
    }
    pub fn tie(first: &str, second: &str, by: &str, half_width: Option<&str>) -> String {
        match half_width {
            Some(half) => format!("No real difference between {first} and {second}: {by} ± {half} dB."),
            None => format!("No real difference between {first} and {second}: {by} dB."),
        }
    }
    pub fn before(first: &str, second: &str, by: &str, half_width: Option<&str>) -> String {
        let half = half_width.map_or_else(String::new, |half| format!(" ± {half}"));
        format!("By your weights {first} comes before {second}, though it is {by}{half} dB quieter.")
    }
    pub fn within(at: &str, half: &str) -> String {
        format!("{at}, ± {half}")
    }
    pub fn plus_minus(value: &str, half: &str) -> String {
        format!("{value} ± {half}")
    }
    pub fn in_hand(mean: &str, least: &str, hz: &str, limiter: &str) -> String {
        format!(
            "At its limits the designed box has {mean} dB in hand over the trials in the mean, the least, {least} dB, at {hz} Hz: {limiter}."
        )
    }
    pub fn hole(hz: &str, under: &str) -> String {
        format!("At {hz} Hz it lies {under} dB under the best spot, and a hole cannot be turned up.")
    }
    pub fn drifted(db: &str) -> String {
        format!(
            "The first spot, tried again, came out {db} dB off: something changed in between. Measure anew."
        )
    }
    pub fn steady(db: &str) -> String {
        format!("The first spot, tried again, came out within {db} dB.")
    }
    pub fn compared(low: &str, high: &str, seats: &str) -> String {
        format!("{low} to {high} Hz, {seats}")
    }
    pub fn left_out(spots: &str, seats: &str) -> String {
        format!("Not compared, as not heard at the {seats}: {spots}.")
    }
    pub fn forecast(spot: &str, difference: &str, louder: bool, low: &str, high: &str, band: &str) -> String {
        let word = if louder { "louder" } else { "quieter" };
        format!(
            "At {spot} the designed box plays {difference} dB {word} than the test box, mean of {low} to {high} Hz at the same voltage, ± {band} dB."
        )
    }
    pub fn forecast_same(spot: &str) -> String {
        format!("The designed box is the test box: at {spot} it plays as measured.")
    }
    pub fn state_at(spot: &str, aim: &str, more: &str) -> String {
        if more.is_empty() {
            format!("{spot}, facing {aim}")
        } else {
            format!("{spot}, facing {aim}, {more}")
        }
    }
    pub fn degrees(degrees: &str) -> String {
        format!("{degrees}°")
    }
    pub fn takes(count: usize) -> String {
        if count == 1 { "1 take".into() } else { format!("{count} takes") }
    }
    pub fn column(column: usize) -> String {
        format!("column {column}")
    }
    pub fn tone(hz: &str) -> String {
        format!("{hz} Hz")
    }
    pub fn deep_hole(hz: &str) -> String {
        format!("{hz} Hz: a hole")
    }
    pub fn found(points: usize, low: &str, high: &str, columns: usize, passed_over: usize) -> String {
        let over = match passed_over {
            0 => String::new(),
            1 => ", 1 line passed over".into(),
            more => format!(", {more} lines passed over"),
        };
        format!("{points} points from {low} to {high} Hz in {columns} columns{over}.")
    }
    pub fn first_row(hz: &str, level: &str) -> String {
        format!("First point: {hz} Hz, {level} dB.")
    }
    pub fn one_column(line: usize) -> String {
        format!("Line {line} has one column: frequency and level are needed.")
    }
    pub fn two_ways(line: usize) -> String {
        format!(
            "The commas of line {line} may be decimal signs or part the columns. Part the columns with semicolons or tabs."
        )
    }
    pub fn not_a_number(line: usize, text: &str) -> String {
        format!("“{text}” in line {line} is no number.")
    }
    pub fn uneven(line: usize, found: usize, expected: usize) -> String {
        format!("Line {line} has {found} columns, the lines before have {expected}.")
    }
    pub fn out_of_range(line: usize) -> String {
        format!("Line {line} has a frequency below zero or a level beyond 300 dB.")
    }
    pub fn too_few(found: usize) -> String {
        format!("Only {found} frequencies lie between 10 and 500 Hz.")
    }
    pub const COLUMNS_EMPTY: &str = "Nothing to read yet.";
    pub const COLUMNS_NOT_TEXT: &str = "This is no text file.";
    pub const COLUMNS_TOO_LONG: &str = "Too long: at most 2 MB.";
    pub const COLUMNS_NO_NUMBERS: &str = "No line begins with a number.";
    pub const COLUMNS_NO_COLUMN: &str = "There is no such column.";

    pub fn front_label(what: &str, hz: &str) -> String {
        format!("{what} at {hz} Hz")
    }
}

/// The sweep through the phone's microphone.
#[allow(missing_docs)]
pub mod sweep {
    pub const BY_SWEEP: &str = "a sweep and this phone";
    pub const CAUTION: &str = "Start with the volume down. It begins with a tone that rises for four seconds: turn down or stop if that \
        gets loud. Ears out of the car where you can; never above 95 dB at the head.";
    pub const HOW: &str = "Lay the phone where the head is, Bluetooth off, the same way round for every spot. Doors and windows shut, \
        everything still. A low tone, silence, then three sweeps: the second comes 6 dB lower to show whether the phone \
        keeps its gain.";
    pub const MICROPHONE_ABOUT: &str =
        "A phone's own bass is unknown, but the same in every trial: spots compare, absolute levels do not.";
    pub const LENGTH: &str = "Each sweep lasts";
    pub const PLAYER: &str = "Played by";
    pub const OTHER_PLAYER: &str = "the saved file";
    pub const SAVE: &str = "Save the sweep file";
    pub const SAVE_FAILED: &str = "The browser refused to save the file.";
    pub const START: &str = "Start listening";
    pub const STOP: &str = "Stop";
    pub const STOPPED: &str = "Stopped. Nothing of this take is kept; earlier trials are.";
    pub const ASKING: &str = "Waiting for the microphone.";
    pub const WORKING: &str = "Working it out.";
    pub const NOT_HEARD: &str = "No sweep was heard yet.";
    pub const UNAVAILABLE: &str = "This page has no way to the microphone: open it by https in a current browser. Tones and a meter work without.";
    pub const REFUSED: &str = "The microphone was refused. Allow it for this page in the browser's settings, then start again. Earlier trials are kept.";
    pub const NO_MICROPHONE: &str = "No microphone was found. Earlier trials are kept.";
    pub const SAMPLES_MISSING: &str = "The browser lost a piece of the sound. Close other programs and start again; earlier trials are kept.";
    pub const LOST: &str = "The microphone went away during the take. Start again; earlier trials are kept.";
    pub const CHANGED: &str = "A microphone or headset was plugged in or taken out during the take, so the take is thrown away. Start again; \
        earlier trials are kept.";
    pub const HIDDEN: &str = "The page was hidden during the take, so the take is thrown away. Keep it in sight and start again; earlier \
        trials are kept.";
    pub const NOT_FOUND: &str =
        "The three sweeps were not found. Was the file of this length played to its end, and loud enough?";
    pub const NO_SILENCE: &str = "The silence before the sweeps is missing. Start listening first, then play the file from its beginning.";
    pub const GAP: &str = "The sweeps did not come whole or not at their time: a piece is missing, or the player stumbled. Start again.";
    pub const LOUDER: &str =
        "For surer levels play 6 dB louder next time, but never above 95 dB at the head.";
    pub const SIX_LOUDER: &str = "6 dB louder";
    pub const QUIETER: &str =
        "Louder or longer would not do: wait for quieter surroundings if you want surer levels.";
    pub const CLIPPED: &str = "Too loud for the microphone: the sound is cut off at its top. Turn down or lay the phone further away.";

    pub fn seconds(seconds: u8) -> String {
        format!("{seconds} s")
    }
    pub fn own_player(down: u32) -> String {
        if down == 0 { "this phone, full level".into() } else { format!("this phone, {down} dB down") }
    }
    pub fn file_name(seconds: u8) -> String {
        format!("sweep-{seconds}s.wav")
    }
    pub fn listening(at: u32, of: u32) -> String {
        format!("Listening: {at} of {of} s. Play it now.")
    }
    pub fn longer(seconds: u8) -> String {
        format!("Sweeps of {seconds} s would stand further out of this noise.")
    }
    pub fn processed(names: &str) -> String {
        format!(
            "This browser does not switch off its processing of the sound ({names}): its levels would mislead. Use another browser, or tones and a meter."
        )
    }
    pub fn other(said: &str) -> String {
        format!("The microphone could not be used: {said}")
    }
    pub fn rate(khz: &str) -> String {
        format!(
            "The microphone gives only {khz} kHz, as a hands-free set does. Switch Bluetooth off and start again; earlier trials are kept."
        )
    }
    pub fn overload(db: &str) -> String {
        format!("Overloaded: the third harmonic is only {db} dB under the tone. Turn down and start again.")
    }
    pub fn near_overload(db: &str) -> String {
        format!("Near overload: the third harmonic is {db} dB under the tone. A few dB less would be better.")
    }
    pub fn noisy(db: &str) -> String {
        format!(
            "Too quiet: the sweep stands only {db} dB over the noise in the bass, and 21 dB are needed. A little louder, or quieter surroundings."
        )
    }
    pub fn gain_control(db: &str) -> String {
        format!(
            "A gain control is at work: the sweep 6 dB lower came back {db} dB lower. These levels can't be compared."
        )
    }
    pub fn level_drift(db: &str, up: bool) -> String {
        let way = if up { "louder" } else { "quieter" };
        format!("The last sweep came back {db} dB {way} than the first. Let nothing move, then start again.")
    }
    pub fn heard(over: &str, half: &str) -> String {
        format!(
            "Three takes, {over} dB over the noise in the bass, levels sure to ± {half} dB beside the kept steps. Keep this trial below."
        )
    }
}

/// The subwoofer with the front speakers.
#[allow(missing_docs)]
pub mod fronts {
    pub const TITLE: &str = "With the front speakers";
    pub const HOW: &str = "One tone a band, one setting of the volume, meter or phone where the head is: subwoofer alone, front speakers alone, \
        both. The microphone drops out, A weighting too.";
    pub const MORE: &str = "Turned: both once more with the subwoofer's polarity turned; it checks the rest. Later: both with the subwoofer delayed \
        by the time below; it tells which of the two is ahead.";
    pub const LEVELS: [&str; 5] = ["sub", "front", "both", "turned", "later"];
    pub const DELAY: &str = "Sub later by";
    pub const NOT_A_DELAY: &str =
        "Not a delay of up to 100 ms; below zero if the front speakers were delayed.";
    pub const NOT_A_LEVEL: &str = "Not a level between −200 and 200 dB.";
    pub const CHECK: &str = "check";
    pub const TURN: &str = "Turn the polarity of the subwoofer";
    pub const KEEP: &str = "Leave the polarity";
    pub const NO_DELAY: &str = "no delay";
    pub const SUB_OVER: &str =
        "The subwoofer is louder in every band: it reaches far up. Lower its low-pass, or turn it down.";
    pub const FRONT_OVER: &str =
        "The front speakers are louder in every band: turn the subwoofer up, or raise its low-pass.";

    pub fn ahead(degrees: &str) -> String {
        format!("{degrees} ahead")
    }
    pub fn behind(degrees: &str) -> String {
        format!("{degrees} behind")
    }
    pub fn check_off(bands: &str) -> String {
        format!(
            "With the polarity turned the levels do not add up at {bands}: the volume moved, or it is too noisy. Read them again."
        )
    }
    pub fn delay_sub(ms: &str) -> String {
        format!("delay the subwoofer by {ms} ms")
    }
    pub fn delay_fronts(ms: &str) -> String {
        format!("delay the front speakers by {ms} ms")
    }
    pub fn aligned(polarity: &str, delay: &str, gain: &str, short: &str) -> String {
        format!(
            "{polarity}, {delay}: {gain} dB more where both play, {short} dB short of both in step. Measure again after."
        )
    }
    pub fn meets(hz: &str) -> String {
        format!("They hand over at {hz} Hz.")
    }
    pub fn wide(hz: &str, octaves: &str) -> String {
        format!(
            "They hand over at {hz} Hz, but both play over {octaves} octaves: steeper filters, or corners further apart, leave less to align."
        )
    }
    pub fn hole(hz: &str, db: &str) -> String {
        format!(
            "Where they hand over, at {hz} Hz, both lie {db} dB lower than elsewhere: raise the subwoofer's low-pass or lower the front speakers' high-pass."
        )
    }
}

/// What is known of the microphone.
#[allow(missing_docs)]
pub mod microphone {
    pub const TITLE: &str = "The microphone's curve and level";
    pub const ABOUT: &str = "With the curve of your microphone, flatness and usable level are shown too. Ranking and verdict do without.";
    pub const PASTE: &str =
        "Frequency and how much the microphone shows too much there, dB, one point a line";
    pub const TAKE_CURVE: &str = "Use this curve";
    pub const HAS_CURVE: &str = "This job holds a microphone curve.";
    pub const DROP_CURVE: &str = "Forget the curve";
    pub const COUNTS_FOR: &str = "The curve counts for";
    pub const FOR_SWEEPS: &str = "sweeps of this phone";
    pub const FOR_FILES: &str = "curves from files";
    pub const FOR_TONES: &str = "tones by the meter";
    pub const FOR_ALL: &str = "every trial";
    pub const FULL_SCALE: &str = "0 dB of a sweep is, dB at the ear";
    pub const ANCHOR: &str = "Anchor the level";
    pub const ANCHOR_HOW: &str = "Play the 50 Hz tone at the volume of a trial by sweep and read a meter, C or Z, slow, where the phone lay: from \
        then on this phone's sweeps are sound levels.";
    pub const ANCHOR_NONE: &str = "The anchor needs a trial by sweep.";
    pub const ANCHOR_TRIAL: &str = "At the volume of";
    pub const ANCHOR_GAP: &str = "That trial has no level at 50 Hz, or the two cannot belong together.";
    pub const READING: &str = "The meter reads";
    pub const TAKE_ANCHOR: &str = "Anchor with this reading";
    pub const SAVE_TONE: &str = "Save the 50 Hz tone";
    pub const TONE_FILE: &str = "tone-50Hz.wav";
    pub const SAVE_FAILED: &str = "The browser refused to save the file.";

    pub const WITH_CURVE: &str = "With the microphone's curve";
    pub const FLATNESS: &str = "flatness, dB";
    pub const USABLE: &str = "usable, dB";
    pub const ABOUT_CURVE: &str = "Flatness: how far the level strays from a line that falls by 4 dB an octave above 40 Hz. Usable: level over that \
        line which nine tenths of the frequencies reach, so what is left when peaks are cut";
    pub const RELATIVE: &str = ", under the best spot.";
    pub const ANCHORED: &str = ", as sound level.";
    pub const NOT_COVERED: &str = "The microphone's curve does not count for all these trials: flatness and usable level are not shown.";
}

/// The cabin fitted to trials.
#[allow(missing_docs)]
pub mod cabin_fit {
    pub const TITLE: &str = "The cabin by these trials";
    pub const ABOUT: &str = "Measured level less the test box's own response is the cabin. Corner and leak are fitted to it; the level is free, as a \
        phone does not know its own.";
    pub const NEEDS: &str = "Say first which box the trials were made with, above.";
    pub const SHAPE: &str = "Without the microphone's curve its own roll-off is taken for the cabin's.";
    pub const USE: &str = "Use this cabin";
    pub const USED: &str = "The vehicle has this cabin now: the next design uses it.";
    pub const CHART: &str = "Level at the seats, measured and predicted";
    pub const MEASURED: &str = "measured, all spots";
    pub const FITTED: &str = "box × cabin fitted";
    pub const ENTERED: &str = "box × cabin entered";
    pub const NO_LEAK: &str = "A leak does not show in them, so that the one entered counts.";

    pub fn corner(hz: &str, low: &str, high: &str) -> String {
        format!("Corner {hz} Hz, within {low} to {high} Hz.")
    }
    pub fn leak(hz: &str, low: &str, high: &str) -> String {
        format!("Leaks below {hz} Hz, within {low} to {high} Hz.")
    }
    pub fn left(db: &str) -> String {
        format!("What modes and seats add strays {db} dB from it.")
    }
}

/// What this device keeps of a trial beside the design.
#[allow(missing_docs)]
pub mod kept {
    pub const TAKES: &str = "Takes that count";
    pub const PHOTOGRAPH: &str = "Photograph";
    pub const PHOTOGRAPH_SPOKEN: &str = "Photograph of where the box stood";
    pub const FORGET: &str = "Remove the photograph";
    pub const ON_DEVICE: &str = "On this device only.";
    pub const SAVE: &str = "Save the recording";
    pub const FILE: &str = "recording.wav";
    pub const NOT_SAVED: &str = "The browser refused to save the file.";
    pub const NO_PICKER: &str = "The browser opens no way to a photograph here.";
    pub const LAST: &str = "One take has to count: leave the whole trial out instead.";
    pub const BLOCKED: &str = "This browser keeps no recordings or photographs for this page. The trial itself is kept with the design.";
    pub const FULL: &str = "There is no room left on this device for recordings or photographs. The trial itself is kept with the design.";

    pub fn take(number: usize, level: &str) -> String {
        format!("{number}: {level} dB")
    }
}

/// The proof of the built box.
#[allow(missing_docs)]
pub mod prove {
    pub const TITLE: &str = "Prove the built box";
    pub const HOW: &str = "A resistor in series with the box, a sine tone of about 1 V, a meter across the box. Enter the resistor: behind \
        10 Ω the voltage does not peak quite where the impedance does, and that is allowed for. The search says which tone is next, down \
        to 0.2 Hz; 1 Hz is a tenth of the volume. Measure the driver by itself the same day.";
    pub const FILL: &str = "Fill the closed fields of your type of box.";
    pub const AGREES: &str = "That is the box as drawn.";
    pub const DIFFERS: &str = "That is not the box as drawn: look for a leak, fill, something left in the box, or a Vas that is off.";
    pub const LOSS_ASK: &str = "With the generator's voltage, and the search's reading at the dip, leak and losses are told too, and the \
        volume becomes surer.";
    pub const NONE_ENTERED: &str = "none";
    pub const COIL_COUNTS: &str =
        "The coil's own losses count in it, as the coil model entered has none: the box may well be tighter.";
    pub const CHECKS: [&str; 4] = ["check", "one side", "other side", "apart"];
    pub const DRIVER: &str = "driver by itself: today, data sheet";
    pub const DRIVER_HOLDS: &str =
        "The driver is as its data sheet says; what the suspension is off today is allowed for.";
    pub const DRIVER_OFF: &str = "More than 10 % off: let the driver play in, look for a wrong data sheet, a coil left open, or the wrong peak. \
        The volume takes the moving mass as printed and the suspension as of today.";
    pub const PRODUCT: &str = "fL·fH = fs·fb, fb the dip";
    pub const PRODUCT_OFF: &str =
        "It is more: the dip or the driver's own peak is misread, or the driver was measured on another day.";
    pub const SUM: &str = "fL² + fH² = fb² + fc²";
    pub const SUM_OFF: &str = "It is more: a peak is misread, or the port was not shut tight.";
    pub const HOLDS: &str = "It fits.";

    pub fn proven(volume: &str, uncertainty: &str, tuning: &str, tuning_uncertainty: &str) -> String {
        format!(
            "By its impedance the box has {volume} ± {uncertainty} and {tuning} ± {tuning_uncertainty} Hz."
        )
    }
    pub fn over_drawn(share: &str, half: &str, more: bool) -> String {
        let word = if more { "more" } else { "less" };
        format!("The driver feels {share} ± {half} % {word} than drawn; fill makes it more, up to some 25 %.")
    }
    pub fn drawn(volume: &str, tuning: &str) -> String {
        format!("Drawn: {volume}, {tuning} Hz.")
    }
    pub fn loss(ql: &str, low: &str, high: &str, entered: &str) -> String {
        format!(
            "Leak, fill and port together lose as a QL of {ql} would, {low} to {high}; entered: {entered}."
        )
    }
    pub fn loss_above(low: &str, entered: &str) -> String {
        format!(
            "Leak, fill and port together lose less than a QL of {low} would; more the reading can't tell. Entered: {entered}."
        )
    }
    pub fn percent(share: &str, more: bool) -> String {
        format!("{}{share} %", if more { "+" } else { "−" })
    }
    pub fn hertz(value: &str) -> String {
        format!("{value} Hz")
    }
    pub fn square_hertz(value: &str) -> String {
        format!("{value} Hz²")
    }
    pub fn expected(apart: &str, verdict: &str) -> String {
        format!("Losses, coil and resistor make {apart} in this box. {verdict}")
    }
}

/// The guided search for peaks and dip.
#[allow(missing_docs)]
pub mod guided {
    pub const BOX: &str = "Search in the box";
    pub const DRIVER: &str = "Search on the driver by itself";
    pub const TONE: &str = "Tone";
    pub const VOLTS: &str = "Meter across the box";
    pub const ADD: &str = "Next tone";
    pub const UNDO: &str = "Take the last back";
    pub const NOT_ONE: &str = "A tone of 3 to 500 Hz and up to 100 V.";
    pub const FULL: &str = "No more tones fit: take some back.";
    pub const TAKE: &str = "Use these frequencies";
    pub const TAKEN: &str = "These frequencies stand below.";
    pub const NO_PEAKS: &str =
        "These tones show too few peaks. Is the resistor in series, and the meter across the box?";
    pub const FIRST: &str = "Leave generator and resistor alone from the first tone to the last.";
    pub const PEAK: &str = "peak";
    pub const LOW_PEAK: &str = "lower peak";
    pub const DIP: &str = "dip";
    pub const HIGH_PEAK: &str = "upper peak";

    pub fn play(hz: &str, number: usize) -> String {
        format!("Tone {number}: play {hz} Hz and type what the meter shows.")
    }
    pub fn found(what: &str, hz: &str, within: &str) -> String {
        format!("{what} {hz} ± {within} Hz")
    }
    pub fn so_far(list: &str) -> String {
        format!("So far: {list}.")
    }
    pub fn done(list: &str) -> String {
        format!("Found: {list}.")
    }
    pub fn tone(hz: &str, volts: &str) -> String {
        format!("{hz} Hz {volts} V")
    }
}

/// Drivers that don't share equally.
#[allow(missing_docs)]
pub mod unequal {
    pub const FOLD: &str = "Unequal shares, driver by driver";
    pub const CHART: &str = "Travel of each cone";
    pub const ABOUT: &str = "Shares by DC resistance, in brackets the largest over frequency: near its resonances a driver's impedance is not \
                             its resistance. Level, impedance and the worst cone's travel above are of this wiring.";
    pub fn driver(number: usize) -> String {
        format!("Driver {number}")
    }
    pub fn consequence(
        driver: &str,
        share: &str,
        even: &str,
        cost: &str,
        coil: &str,
        headroom: &str,
    ) -> String {
        format!(
            "Unequal shares: driver {driver} takes {share} % of the power where equal shares would give it {even} %. At the same power the box is {cost} dB \
             quieter than with equal shares, and coil {coil} reaches its limit of heat {headroom} dB earlier."
        )
    }
    pub fn of_driver(share: &str, most: &str, at: &str, travel: &str, there: &str) -> String {
        format!(
            "{share} % of the power (up to {most} % at {at} Hz); its cone travels {travel} mm at {there} Hz"
        )
    }
}

/// Faces that drivers and terminals sit in, and the board that comes off.
#[allow(missing_docs)]
pub mod faces {
    pub const TITLE: &str = "Faces: drivers, terminals, a board that comes off";
    pub const DRIVER_FACE: &str = "Drivers in another face than the front";
    pub const DRIVER_COUNT: &str = "How many of them there";
    pub const FRONT_ONLY: &str = "none, all in the front";
    pub const ALL: &str = "all";
    pub const HALF: &str = "half";
    pub const FRONT: &str = "front";
    pub const BACK: &str = "back";
    pub const LEFT: &str = "left side";
    pub const RIGHT: &str = "right side";
    pub const SIDES: &str = "both sides, in turn";
    pub const TOP: &str = "top";
    pub const BOTTOM: &str = "bottom";
    pub const TOP_BOTTOM: &str = "bottom and top, in turn";
    pub const TERMINAL_FACE: &str = "Terminals in";
    pub const TERMINAL_WINDOW: &str = "Window around them in the outer front, on each side";
    pub const WINDOW_ABOUT: &str = "Of a double front the outer layer gets a window that is larger than the hole by this on each side; \
        the terminals' plate lies in it, on the inner layer.";
    pub const DRIVERS_ABOUT: &str = "Flanges lie on the board there, without a recess. Two drivers that look away from each other push the \
        box both ways at once, so it shakes less; wire them so that both cones move out together. Passive radiators in the same side \
        stand beside them.";
    pub const NO_RECESS: &str =
        "No driver is in the front, so no recess is cut: flanges in other faces lie on the board.";
    pub const LOOSE: &str = "Board that comes off";
    pub const BATTEN: &str = "Battens behind it, thickness";
    pub const BATTENS: &str = "battens";
    pub const ONE_BATTEN: &str = "batten";
    pub fn mitred_ends(first: &str, second: &str) -> String {
        if first == second {
            format!("both ends mitred {first}°, to the long point")
        } else {
            format!("ends mitred {first}° and {second}°, to the long point")
        }
    }
    pub fn bevelled_edge(degrees: &str) -> String {
        format!("one long edge bevelled {degrees}°, width on the wider face")
    }
    pub const LOOSE_GASKET: &str = "gasket of the board that comes off";
    pub const LOOSE_SCREWS: &str = "screws of the board that comes off";
    pub const OPENING: &str = "Opening behind the board that comes off";
    pub const SCREWED: &str = "Not glued: battens first, glued and screwed around the opening; gasket on them, then screws from the outside, \
        tightened crosswise.";
    pub fn battens(thick: &str) -> String {
        format!("battens {thick} × {thick}")
    }
    pub const LOOSE_ABOUT: &str = "Screwed on with a gasket, not glued. Battens run around its opening inside, so that screws hold in \
        their faces and not in the edges of boards; they take air. Beside boards that lean they are mitred or bevelled as the cut list \
        says.";
    pub fn magnet_to_board(by: &str) -> String {
        format!("A driver's rear reaches {by} past the inner face of the board opposite: it does not fit.")
    }
    pub fn magnet_to_magnet(by: &str) -> String {
        format!("Two drivers reach {by} past each other's rears: they do not fit behind one another.")
    }
    pub fn terminal_over(by: &str) -> String {
        format!("The terminals reach {by} into the nearest flange or port: choose another face for them.")
    }
    pub fn terminal_beside(gap: &str) -> String {
        format!("Between the terminals and the nearest flange or port are {gap} of wood.")
    }
}

/// Boards beside the first.
#[allow(missing_docs)]
pub mod wood {
    pub const TITLE: &str = "Parts from other boards";
    pub const SECOND: &str = "Second board, by calipers";
    pub const SECOND_DENSITY: &str = "Second board, density";
    pub const SECOND_MODULUS: &str = "Second board, stiffness E, GPa";
    pub const SECOND_WIDTH: &str = "Second board, sheet width";
    pub const SECOND_LENGTH: &str = "Second board, sheet length";
    pub const SECOND_PRICE: &str = "Second board, price of a sheet";
    pub const THIRD: &str = "Third board, by calipers";
    pub const THIRD_DENSITY: &str = "Third board, density";
    pub const THIRD_MODULUS: &str = "Third board, stiffness E, GPa";
    pub const THIRD_WIDTH: &str = "Third board, sheet width";
    pub const THIRD_LENGTH: &str = "Third board, sheet length";
    pub const THIRD_PRICE: &str = "Third board, price of a sheet";
    pub const FRONT_FROM: &str = "Front, outer layer, from";
    pub const FRONT_INNER_FROM: &str = "Front, inner layer, from";
    pub const INSIDE_FROM: &str = "Braces, divider, port boards from";
    pub const STRIPS_FROM: &str = "Corner strips from";
    pub const JOINTS: &str = "Order";
    pub const FRONT_TOP: &str = "front and back, then top and bottom";
    pub const FRONT_SIDES: &str = "front and back, then the sides";
    pub const TOP_FRONT: &str = "top and bottom, then front and back";
    pub const TOP_SIDES: &str = "top and bottom, then the sides";
    pub const SIDES_FRONT: &str = "the sides, then front and back";
    pub const SIDES_TOP: &str = "the sides, then top and bottom";
    pub const FRONT_RING: &str = "front and back, then four in a ring";
    pub const RING_FRONT: &str = "four in a ring, then front and back";
    pub const IS_FIRST: &str = "the first board";
    pub const IS_SECOND: &str = "the second board";
    pub const IS_THIRD: &str = "the third board";

    pub const EDGES: &str = "Joints: which board runs through";
    pub const EDGES_ABOUT: &str = "Where two boards meet, one runs through and covers the other's edge: by the order above, or edge by edge. Sides that \
        form legs run past the rest.";
    pub const BY_ORDER: &str = "by the order";
    pub const THE_FRONT: &str = "the front";
    pub const THE_BACK: &str = "the back";
    pub const THE_LEFT: &str = "the left side";
    pub const THE_RIGHT: &str = "the right side";
    pub const THE_BOTTOM: &str = "the bottom";
    pub const THE_TOP: &str = "the top";
    pub const EDGE_FRONT_LEFT: &str = "Front and left side";
    pub const EDGE_FRONT_RIGHT: &str = "Front and right side";
    pub const EDGE_FRONT_BOTTOM: &str = "Front and bottom";
    pub const EDGE_FRONT_TOP: &str = "Front and top";
    pub const EDGE_BACK_LEFT: &str = "Back and left side";
    pub const EDGE_BACK_RIGHT: &str = "Back and right side";
    pub const EDGE_BACK_BOTTOM: &str = "Back and bottom";
    pub const EDGE_BACK_TOP: &str = "Back and top";
    pub const EDGE_LEFT_BOTTOM: &str = "Left side and bottom";
    pub const EDGE_LEFT_TOP: &str = "Left side and top";
    pub const EDGE_RIGHT_BOTTOM: &str = "Right side and bottom";
    pub const EDGE_RIGHT_TOP: &str = "Right side and top";

    pub const UNTICKED: &str = "no";
    pub const TICKED: &str = "yes";
    pub const STRIP_FRONT_LEFT: &str = "Strip, front and left side";
    pub const STRIP_FRONT_RIGHT: &str = "Strip, front and right side";
    pub const STRIP_FRONT_BOTTOM: &str = "Strip, front and bottom";
    pub const STRIP_FRONT_TOP: &str = "Strip, front and top";
    pub const STRIP_BACK_LEFT: &str = "Strip, back and left side";
    pub const STRIP_BACK_RIGHT: &str = "Strip, back and right side";
    pub const STRIP_BACK_BOTTOM: &str = "Strip, back and bottom";
    pub const STRIP_BACK_TOP: &str = "Strip, back and top";
    pub const STRIP_LEFT_BOTTOM: &str = "Strip, left side and bottom";
    pub const STRIP_LEFT_TOP: &str = "Strip, left side and top";
    pub const STRIP_RIGHT_BOTTOM: &str = "Strip, right side and bottom";
    pub const STRIP_RIGHT_TOP: &str = "Strip, right side and top";
    pub const STRIP_EDGES: &str = "A strip in these inside edges";
    /// Ticked edges that get no strip.
    pub fn no_strip_in(edges: &str) -> String {
        format!("No strip there, for want of room or of two boards that meet: {edges}.")
    }
    /// A corner strip with the edge it stands in.
    pub fn in_edge(strip: &str, edge: &str) -> String {
        format!("{strip} ({})", edge.to_ascii_lowercase())
    }
    pub const NO_STRIP_TICKED: &str =
        "Corner strips in edges of your own are chosen and no edge is ticked: there are none.";
    pub const STRIPS_NO_BOX: &str = "What is built now has no inside edges: these ticks wait for a box.";
    pub fn strips_at_divider(count: u8) -> String {
        if count == 1 {
            "The corner strip that would run across the box is left out: it would run through the divider."
                .into()
        } else {
            format!(
                "The {count} corner strips that would run across the box are left out: they would run through the divider."
            )
        }
    }

    pub const SIDES: &str = "the sides";
    pub const TOP_BOTTOM: &str = "top and bottom";
    pub const FRONT_BACK: &str = "front and back";
    pub const FACES_FRONT_RING: &str = "Front and back cover the rest; left covers top, top covers right, right covers bottom, bottom covers \
        left, each at one end. Square edges measure alike on both faces.";
    pub const FACES_RING_FRONT: &str = "Left covers top, top covers right, right covers bottom, bottom covers left, each at one end; front and \
        back stand between them. Square edges measure alike on both faces.";

    pub fn faces(first: &str, second: &str) -> String {
        format!(
            "At each edge {first} run through first, then {second}. Square edges measure alike on both faces."
        )
    }
    /// Which boards each runs past, where edges are chosen one by one.
    pub fn faces_by_edge(boards: &[String]) -> String {
        format!("{}. Square edges measure alike on both faces.", boards.join("; "))
    }
    pub fn runs_past(board: &str, others: &str) -> String {
        format!("{board} runs past {others}")
    }
    pub const fn which(number: u8) -> &'static str {
        match number {
            1 => IS_SECOND,
            2 => IS_THIRD,
            _ => IS_FIRST,
        }
    }
    pub fn of(number: u8, thickness: &str) -> String {
        format!("{}, {thickness}", which(number))
    }
    pub fn setting(board: &str) -> String {
        format!("Only what is cut from {board}: set the blade's height for it.")
    }
    pub fn layout(board: &str) -> String {
        format!("Cut from {board}:")
    }
}
