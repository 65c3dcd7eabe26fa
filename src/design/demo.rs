//! A ready design to look at: an invented driver, amplifier and car.
use super::document::{Design, Sheet, parse_entry};
use super::limits::FieldId;
use crate::units::UnitPrefs;

/// Invented data; no such driver, amplifier or car is sold.
const ENTRIES: &[(FieldId, &str)] = &[
    (FieldId::DesignName, "Demo: hatchback, folded seat"),
    (FieldId::DriverName, "Invented ten-inch, 2 × 2 Ω"),
    (FieldId::Fs, "29.0"),
    (FieldId::Re, "1.8"),
    (FieldId::Coils, "2"),
    (FieldId::SheetConnection, "series"),
    (FieldId::Qes, "0.52"),
    (FieldId::Qms, "6.5"),
    (FieldId::Qts, "0.48"),
    (FieldId::Vas, "33"),
    (FieldId::Sd, "330"),
    (FieldId::Xmax, "14"),
    (FieldId::Le, "2.2"),
    (FieldId::ThermalPower, "450"),
    (FieldId::Mms, "141"),
    (FieldId::Bl, "13.3"),
    (FieldId::NominalCoil, "2"),
    (FieldId::CutOut, "233"),
    (FieldId::OutsideDiameter, "262"),
    (FieldId::MountingDepth, "140"),
    (FieldId::MagnetDiameter, "156"),
    (FieldId::DriverDisplacement, "1.9"),
    (FieldId::PoleVent, "30"),
    (FieldId::AmplifierName, "Invented one-channel"),
    (FieldId::Watts4, "250"),
    (FieldId::Watts2, "450"),
    (FieldId::Watts1, "700"),
    (FieldId::RatedSupply, "14.4"),
    (FieldId::StableLoad, "1"),
    (FieldId::VehicleName, "Invented hatchback"),
    (FieldId::SpaceWidth, "720"),
    (FieldId::SpaceHeight, "340"),
    (FieldId::SpaceDepth, "360"),
    (FieldId::CableRun, "4.6"),
    (FieldId::EnclosureName, "Behind the seat"),
    (FieldId::BoxKind, "closed"),
    (FieldId::WantedQtc, "0.71"),
    (FieldId::Board, "18.1"),
    (FieldId::Strips, "four"),
    (FieldId::StripFace, "60"),
    (FieldId::TerminalWidth, "76"),
    (FieldId::TerminalHeight, "76"),
    (FieldId::DrivePower, "250"),
    (FieldId::Wiring, "1A-1B"),
];

/// The demo design.
#[must_use]
pub fn design() -> Design {
    let mut sheet = Sheet::default();
    for (id, text) in ENTRIES {
        if let Ok(entry) = parse_entry(*id, text, &UnitPrefs::default()) {
            let _ = sheet.set(*id, entry);
        }
    }
    Design { sheet, ..Design::default() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::link;

    #[test]
    fn every_entry_of_the_demo_fits() {
        assert_eq!(design().sheet.entries().count(), ENTRIES.len());
    }

    #[test]
    fn the_demo_link_fits_a_version_20_code() {
        // 660 bytes with a 60-byte address; ISO/IEC 18004 gives 666 bytes for version 20, level M.
        let address = "https://workshop.example/some/folder/kerf-and-coil/index.html#";
        let length = address.len() + link::fragment(&design()).len();
        assert!(length <= 660, "{length}");
    }
}
