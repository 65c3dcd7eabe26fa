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
    pub const PROOF_FC: &str = "In the closed box, peak";
    pub const PROOF_STEP: &str = "Found to the nearest";
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
    pub const CHANGE: &str = "change";
    pub const DEFAULT: &str = "default";
    pub const DERIVED: &str = "follows";
    pub const EMPTY: &str = "enter";
    pub const CLEAR: &str = "Clear";
    pub const DONE: &str = "Done";
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
    pub const SENSITIVITY: &str = "1 W in Re, 1 m";
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
    pub const DRIVER_HOLES: &str = "air behind the recess";
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

    pub const FRONT: &str = "front";
    pub const BACK: &str = "back";
    pub const TOP_BOTTOM: &str = "top, bottom";
    pub const SIDE: &str = "side";
    pub const PORT_ROOF: &str = "port roof";
    pub const PORT_WALL: &str = "port wall";
    pub const BRACE: &str = "brace";
    pub const CORNER_STRIP: &str = "corner strip";
    pub const PORT_TUBE: &str = "port tube";
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
    pub const CCA_NO_TABLE: &str = "Copper-clad aluminium is not in the ampacity table. It is taken here as the copper \
        of equal resistance: an engineering estimate, not a standard's figure.";
    pub const POWER_NOT_RATED: &str = "The maker does not rate the amplifier at this load. The power is a range between \
        voltage-limited and current-limited; cable and fuse are chosen for its upper end.";
    pub const CAUSE_RESISTANCE: &str =
        "It would fit if Re were that of the coils as measured, not of one coil.";
    pub const CAUSE_XMAX: &str = "It would fit if Xmax were given peak to peak.";
    pub const CAUSE_VD: &str = "It would fit if Vd were given peak to peak.";
    pub const CUTOUT_OVER_STRIP: &str =
        "Through the driver's hole part of a corner strip shows: move the driver or shorten the strip.";

    pub const LINE_DESK_WAITING: &str = "Enter the driver's data sheet to see what a box does with it.";
    pub const LINE_SAW_WAITING: &str = "Driver sizes and the free space are needed before anything is cut.";
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
        format!("{kind}, {net} net: {reach}; {drive} {travel}.")
    }
    pub fn line_saw(parts: usize, settings: usize, mass: &str, net: &str) -> String {
        format!("{parts} pieces, {settings} fence settings, {mass} kg of board; {net} net.")
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
    pub fn line_car_stop(read: &str, why: &str) -> String {
        format!("Not yet: {read}. {why}")
    }
    pub fn travel(travel: &str, at: &str, limit: &str, safe_above: Option<&str>) -> String {
        let advice = match safe_above {
            Some(hz) => format!("Above {hz} Hz it stays within; below, add a high-pass or drive it less."),
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
    pub fn pole_vent(gap: &str, wanted: &str) -> String {
        format!("Behind the pole vent {gap} are left; it wants {wanted} to breathe.")
    }
    pub fn port_to_back(gap: &str, wanted: &str) -> String {
        format!("From the port's inner end to the back {gap} are left; it wants {wanted}.")
    }
    pub fn flange_to_edge(gap: &str, wanted: &str) -> String {
        format!("The driver's flange is {gap} from the edge of the front; screws want {wanted}.")
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
    pub fn wood_behind_recess(left: &str, wanted: &str) -> String {
        format!("Behind the recess {left} of wood are left for the screws; they want {wanted}.")
    }
    pub fn overlap(a: &str, b: &str) -> String {
        format!("{a} and {b} take the same place; the ledger counts it twice. Move one.")
    }
    pub fn no_space(axis: &str, over: &str) -> String {
        format!("In {axis} the box is {over} more than the space leaves after the air at each face.")
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

    pub fn warm(kelvin: &str) -> String {
        format!("As drawn, with coils {kelvin} K above the room. Let them cool and read again.")
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
    pub const SHELF_EMPTY: &str = "Nothing on the shelf yet.";
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
    pub const BOX: &str = "Box";
    pub const LOSSES: &str = "Losses and air";
    pub const DRIVE: &str = "Drive";
    pub const MORE_CURVES: &str = "Impedance and group delay";
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
    pub const SQUARE: &str = "square edges";
    pub const WIDE: &str = "measured on the wide face";
    pub const MITRED: &str = "ends mitred, to the long point";
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

    pub fn rounding(shift: &str) -> String {
        format!("Rounding the sizes to the tape changes the net volume by {shift}.")
    }
    pub fn as_built(shift: &str) -> String {
        format!("The cuts that came out differently change it by {shift} more.")
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
    pub const LEDGER: &str = "Volume ledger";
    pub const FENCE: &str = "Fence order";
    pub const FENCE_ABOUT: &str =
        "Everything that shares a size is cut before the fence moves. Tick what is cut.";
    pub const CUT_LIST: &str = "Cut list";
    pub const PIECE: &str = "piece";
    pub const SIZE: &str = "length × width × thickness";
    pub const FACES: &str = "Front and back cover the rest; top and bottom cover the sides. Square edges measure alike on both faces.";
    pub const CAME_OUT: &str = "came out…";
    pub const CAME_OUT_AT: &str = "it came out at";
    pub const AS_PLANNED: &str = "as planned";
    pub const CAME_OUT_BAD: &str = "Enter the size as measured, within a fifth and within 25 mm of the plan. A piece further off is made again.";
    pub const CAUTION_SAW: &str = "Guard and riving knife on, fence clamped, push block for strips. Mask and extraction: wood dust \
        harms the lungs. The saw's own manual and local rules come first.";
    pub const CAUTION_ROUTER: &str =
        "Router: clamp the work, feed against the cutter, take the recess in passes. Ear and eye protection.";

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
    pub const COILS: &str = "Coils";
    pub const LINE: &str = "Speaker cable and tolerance";
    pub const UNSTABLE: &str = "below what the amplifier stands";
    pub const FEED: &str = "Feed from the battery";
    pub const FEED_ENTRIES: &str = "Feed, entries";
    pub const DRAW: &str = "draw at full power";
    pub const CABLE: &str = "cable, out and back";
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
    pub const GAIN_HOW: &str = "Loudspeaker unplugged, a sine tone at the loudest the source gives, gain up from zero to this voltage. \
        Under load the supply and with it the voltage sag a little.";
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
    pub const SIZE: &str = "Cable size, copper";
    pub const NOT_A_NUMBER: &str = "This is not a number.";
    pub const FILL: &str = "Fill in the first fields.";
    pub const ATTACH: &str = "Keep with this job";
    pub const ATTACHED: &str = "Kept with this job";

    pub fn coil_band(band: &str) -> String {
        format!("A sound coil of this kind reads {band} (common practice, no standard).")
    }
    pub fn coil_good(read: &str, band: &str) -> String {
        format!("{read} is what a sound coil reads: {band}.")
    }
    pub fn coil_low(read: &str, band: &str) -> String {
        format!("{read} is below {band}: coils in parallel, a partly shorted coil, or leads not taken off.")
    }
    pub fn coil_high(read: &str, band: &str) -> String {
        format!("{read} is above {band}: coils in series, a bad contact, or a warm coil.")
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
        format!("{volts} V AC at the output, loudspeaker unplugged, sine tone.")
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
    pub const SOUND: &str = "Sound at the meter check";
    pub const ON: &str = "on";
    pub const OFF: &str = "off";
    pub const ABOUT: &str = "About";
    pub const ABOUT_TEXT: &str = "Everything is calculated in this browser; nothing is sent anywhere. The lumped model is good to about 1 dB \
        below 200 Hz. Check sizes and readings yourself before you cut or power up.";
    pub const CONTENTS: &str = "On this sheet";
    pub const EVERYWHERE: &str = "Everywhere";
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
    pub const PLACE: &str = "spot";
    pub const LEVEL: &str = "level, dB";
    pub const SURE: &str = "±, dB";
    pub const HOLE: &str = "hole, dB";
    pub const SEATS_DIFFER: &str = "seats, dB";
    pub const RANKING_ABOUT: &str = "Level: mean under the loudest spot. Hole: furthest under the best of all spots, with its frequency. Seats: how \
        much the seats differ in shape. The microphone's own response changes none of them.";
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

    pub const PROVE: &str = "Prove the built box";
    pub const PROVE_HOW: &str = "A resistor of about 10 Ω in series with the box, a sine tone of about 1 V, a meter across the box: the voltage \
        peaks where the impedance does. Search in coarse steps, then fine ones of 0.2 Hz; 1 Hz is a tenth of the volume. Measure the driver by \
        itself the same day.";
    pub const PROVE_FILL: &str = "Fill the closed fields of your type of box.";
    pub const PROVE_AGREES: &str = "That is the box as drawn.";
    pub const PROVE_DIFFERS: &str = "That is not the box as drawn: look for a leak, fill, something left in the box, or a Vas that is off.";

    pub const FRONTS: &str = "With the front speakers";
    pub const FRONTS_HOW: &str = "One tone a band at one setting of the volume: subwoofer alone, front speakers alone, both. The microphone drops \
        out, A weighting too.";
    pub const BAND: &str = "band";
    pub const SUB: &str = "sub";
    pub const FRONT_SPEAKERS: &str = "front";
    pub const BOTH: &str = "both";
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

    pub fn proven(volume: &str, uncertainty: &str, tuning: &str, tuning_uncertainty: &str) -> String {
        format!(
            "By its impedance the box has {volume} ± {uncertainty} and {tuning} ± {tuning_uncertainty} Hz."
        )
    }
    pub fn drawn(volume: &str, tuning: &str) -> String {
        format!("Drawn: {volume}, {tuning} Hz.")
    }
    pub fn dip(apart: &str) -> String {
        format!("The dip lies {apart} Hz from the tuning; losses and the coil's inductance part them.")
    }
    pub fn front_label(what: &str, hz: &str) -> String {
        format!("{what} at {hz} Hz")
    }
}
