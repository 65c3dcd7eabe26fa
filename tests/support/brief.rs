//! An invented search: driver, radiator, room and wishes, for the tests and the benchmark.
use kerf_and_coil::model::acoustics::search::{Band, Brief, Kind, Limits, RadiatorUnit, Room, Tube, Weights};
use kerf_and_coil::model::acoustics::{Air, CoilImpedance, Driver, Load, Losses, PassiveRadiator};
use kerf_and_coil::units::{
    Area, Compliance, Current, ForceFactor, Frequency, Inductance, Length, Mass, Power, Resistance, Voltage,
    Volume,
};

/// An invented 10 inch driver.
pub fn driver() -> Driver {
    Driver {
        re: Resistance::from_ohms(3.3),
        coil: CoilImpedance::L { le: Inductance::from_millihenries(1.5) },
        bl: ForceFactor::from_tesla_metres(12.5),
        mms: Mass::from_grams(125.0),
        cms: Compliance::from_millimetres_per_newton(0.25),
        rms_ns_m: 3.4,
        sd: Area::from_square_centimetres(330.0),
    }
}

/// A pipe.
pub fn tube(millimetres: f64, count: u32) -> Tube {
    Tube { inside: Length::from_millimetres(millimetres), wall: Length::from_millimetres(3.0), count }
}

/// An invented radiator of the driver's size.
pub fn radiator() -> RadiatorUnit {
    RadiatorUnit {
        radiator: PassiveRadiator {
            sd: Area::from_square_centimetres(340.0),
            mms: Mass::from_grams(120.0),
            cms: Compliance::from_millimetres_per_newton(0.3),
            rms_ns_m: 3.0,
            count: 2,
        },
        frame: Length::from_millimetres(265.0),
        travel: Some(Length::from_millimetres(18.0)),
        taken_m3: 0.0,
    }
}

/// A boot, four pipes, every kind of box, all wishes alike.
pub fn brief() -> Brief {
    let mm = Length::from_millimetres;
    Brief {
        load: Load::single(driver()),
        unequal: None,
        air: Air::standard(),
        source_resistance: Resistance::from_ohms(0.05),
        limits: Limits {
            voltage: Voltage::from_volts(32.0),
            current: Some(Current::from_amperes(20.0)),
            coil_power: Some(Power::from_watts(300.0)),
            travel: Some(mm(14.0)),
            port_speed_m_s: 17.0,
        },
        room: Room {
            width: mm(800.0),
            height: mm(380.0),
            depth: mm(420.0),
            lean: 0.0,
            board: mm(18.0),
            front: mm(36.0),
            divider: mm(18.0),
            frame: mm(262.0),
            driver_depth: mm(150.0),
            drivers: 1,
            least: [mm(0.0); 3],
            edges: [mm(0.0); 2],
            displaced: Volume::from_litres(2.5),
        },
        losses: Losses { ql: Some(10.0), qa: Some(50.0) },
        port_loss: Some(60.0),
        kinds: Kind::ALL.to_vec(),
        tubes: vec![tube(75.0, 1), tube(100.0, 1), tube(75.0, 2), tube(100.0, 2)],
        radiator: Some(radiator()),
        band: Band { low: Frequency::from_hertz(30.0), top: Frequency::from_hertz(80.0) },
        weights: Weights { reach: 1.0, level: 1.0, evenness: 1.0, size: 1.0, decay: 1.0 },
    }
}
