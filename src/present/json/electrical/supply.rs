//! Supply, gain, loudspeaker line, capacitor and proof as JSON.
use serde_json::{Value, json};

use crate::design::report::{
    GainLimit, GainPlan, Gap, LineReport, Part, PowerAt, ProofReport, RealPower, SupplyReport,
};
use crate::model::electrical::supply::CapacitorHelp;
use crate::present::json::Object;
use crate::present::names;
use crate::present::tables::size;
use crate::units::{Current, Power};

pub(super) fn plan(plan: &GainPlan) -> Value {
    json!({
        "volts": plan.volts.volts(),
        "power_w": plan.power.watts(),
        "limit": match plan.limit {
            GainLimit::Wanted => "wanted",
            GainLimit::Coils => "coils",
            GainLimit::Amplifier => "amplifier under sag",
        },
        "unsagged_v": plan.unsagged.volts(),
    })
}

pub(super) fn supply(report: &SupplyReport) -> Value {
    let balance = report.balance.map(|balance| {
        Object::new()
            .with("idle_spare_a", balance.idle.amperes())
            .with("driving_spare_a", balance.driving.amperes())
            .with("covers_idle", balance.covers_idle)
            .with("covers_driving", balance.covers_driving)
            .maybe("idle_hours", balance.idle_hours)
    });
    let second = report.second.map(|second| {
        Object::new()
            .maybe("equalising_a", second.equalising.map(Current::amperes))
            .maybe("charger_input_a", second.charger_input.map(Current::amperes))
    });
    Object::new()
        .with("open_circuit_v", report.source.emf.volts())
        .with("internal_ohm", report.source.resistance.ohms())
        .with("internal_given", report.resistance_given)
        .maybe("most_w", report.source.most_power().map(Power::watts))
        .maybe("short_circuit_a", report.source.short_circuit().map(Current::amperes))
        .with("charge_low", report.charge.0)
        .with("charge_high", report.charge.1)
        .with("usable_ah", report.budget.usable_ah)
        .maybe("hours_off", report.budget.hours)
        .maybe("days_asleep", report.budget.days_asleep)
        .maybe("balance", balance)
        .maybe("second_battery", second)
        .into()
}

pub(super) fn line(report: &LineReport) -> Value {
    let sizes = report.sizes.iter().map(|(each, loss)| json!({ "size": size(*each), "loss_db": loss }));
    let chosen = report.chosen.map(|effect| {
        json!({
            "loss_db": effect.loss_db,
            "power_share": effect.power_share,
            "qes": effect.qes,
            "qts": effect.qts,
        })
    });
    Object::new()
        .maybe("in_use", chosen)
        .maybe("qts_without", report.qts_bare)
        .with("sizes", sizes.collect::<Vec<_>>())
        .into()
}

pub(super) fn real(real: &RealPower) -> Value {
    let at = |point: &PowerAt| {
        json!({
            "hz": point.frequency.hertz(),
            "impedance_ohm": point.impedance.ohms(),
            "power_w": point.power.watts(),
        })
    };
    json!({
        "at": real.at.iter().map(at).collect::<Vec<_>>(),
        "most": at(&real.most),
        "least": at(&real.least),
        "mean_w": real.mean.watts(),
    })
}

pub(super) fn capacitor(help: &Part<CapacitorHelp>) -> Value {
    match help {
        Ok(help) => json!({
            "stored_j": help.stored_j,
            "given_j": help.given_j,
            "covers_s": help.covers_s,
            "step_v": help.step.volts(),
        }),
        Err(gap) => refused(gap),
    }
}

pub(super) fn proof(proof: &Part<ProofReport>) -> Value {
    let report = match proof {
        Ok(report) => report,
        Err(gap) => return refused(gap),
    };
    let found = &report.proof;
    let metals = found.metals.iter().map(|metal| {
        Object::new()
            .with("metal", names::metal(metal.material))
            .maybe("by_mass_mm2", metal.by_mass.map(|area| 1e6 * area.square_metres()))
            .maybe("by_resistance_mm2", metal.by_resistance.map(|area| 1e6 * area.square_metres()))
            .with("misfit", metal.misfit)
    });
    Object::new()
        .maybe("sold_as", report.claimed.map(size))
        .with("metals", metals.collect::<Vec<_>>())
        .with("sure", found.sure)
        .with("copper_equivalent_mm2", 1e6 * found.copper_equivalent.square_metres())
        .maybe("of_claim", found.of_claim)
        .into()
}

fn refused(gap: &Gap) -> Value {
    match gap {
        Gap::Refused(error) => json!({ "refused": error.to_string() }),
        Gap::Missing(_) | Gap::Waiting | Gap::Rings => json!({ "waiting": true }),
    }
}
