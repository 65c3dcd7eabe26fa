//! Drivers and boxes the checks are built from.
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Driver, Enclosure, End, Load, Losses, Network, Opening, Port, Response, SmallSignal,
    VentedChamber, respond,
};
use kerf_and_coil::units::{
    Area, Compliance, ForceFactor, Frequency, Length, Mass, Resistance, Voltage, Volume,
};

/// The invented 10 inch driver of the reference cases, without inductance.
pub fn a10() -> Driver {
    Driver {
        re: Resistance::from_ohms(3.3),
        coil: CoilImpedance::None,
        bl: ForceFactor::from_tesla_metres(12.5),
        mms: Mass::from_kilograms(0.125),
        cms: Compliance::from_metres_per_newton(0.00025),
        rms_ns_m: 3.4,
        sd: Area::from_square_metres(0.033),
    }
}

/// A driver of given fs and Qts whose losses are all but electrical (Qms = 10⁴ at most).
pub fn driver_of(fs_hz: f64, qts: f64, vas_litres: f64) -> Driver {
    let qms = 1e4;
    let set = SmallSignal {
        fs: Frequency::from_hertz(fs_hz),
        qes: 1.0 / (1.0 / qts - 1.0 / qms),
        qms,
        vas: Volume::from_litres(vas_litres),
        sd: Area::from_square_centimetres(330.0),
        re: Resistance::from_ohms(3.3),
    };
    Driver::from_small_signal(&set, CoilImpedance::None, &Air::standard()).unwrap()
}

/// A wide round port without losses, as long as `fb` asks.
pub fn port_for(fb_hz: f64, volume: Volume) -> Port {
    let mut port = Port {
        opening: Opening::Round { diameter: Length::from_millimetres(100.0) },
        length: Length::from_metres(0.0),
        inner: End::Free,
        outer: End::Flanged,
        count: 1,
        qp: None,
    };
    port.length = port
        .length_for_tuning(Frequency::from_hertz(fb_hz), volume, &Air::standard())
        .unwrap()
        .expect("a port of this size reaches the tuning");
    port
}

/// A vented box with leakage only.
pub fn vented(driver: Driver, volume: Volume, fb_hz: f64, ql: Option<f64>) -> Network {
    Enclosure::Vented {
        rear: VentedChamber { volume, losses: Losses { ql, qa: None }, port: port_for(fb_hz, volume) },
    }
    .network(Load::single(driver), Air::standard())
    .unwrap()
}

/// The response at 2.83 V.
pub fn at_2v83(network: &Network, frequencies_hz: &[f64]) -> Response {
    respond(network, Voltage::from_volts(2.83), frequencies_hz).unwrap()
}
