//! Units, theme, sound.
use yew::prelude::*;

use crate::units::{CableUnit, LengthUnit, RunUnit, TemperatureUnit, UnitPrefs, VolumeUnit};
use crate::view::components::head;
use crate::view::store::{Handle, Msg};
use crate::words::settings as words;

/// Units, theme, sound.
#[inline(never)] // a page of its own, so that it may come after the first result
pub fn settings(store: &Handle) -> Html {
    let prefs = store.prefs;
    let units = |next: UnitPrefs| {
        let store = store.clone();
        Callback::from(move |_: Event| store.dispatch(Msg::Units(next)))
    };
    let dark = |next: Option<bool>| {
        let store = store.clone();
        Callback::from(move |_: Event| store.dispatch(Msg::Dark(next)))
    };
    let length = |length| UnitPrefs { length, ..prefs };
    let volume = |volume| UnitPrefs { volume, ..prefs };
    let run = |run| UnitPrefs { run, ..prefs };
    let cable = |cable| UnitPrefs { cable, ..prefs };
    let heat = |temperature| UnitPrefs { temperature, ..prefs };
    let unit = |label, next: UnitPrefs| (label, next == prefs, units(next));
    html! {
        <div class="columns panel">
            <div class="column">
                <h1 class="line">{ words::TITLE }</h1>
                <section class="sheet">{ head(words::TITLE, "") }
                    { switch("length", words::LENGTH, vec![
                        unit(words::MM, length(LengthUnit::Millimetres)),
                        unit(words::IN16, length(LengthUnit::Sixteenths)),
                        unit(words::IN32, length(LengthUnit::ThirtySeconds)),
                    ]) }
                    { switch("volume", words::VOLUME, vec![
                        unit(words::LITRES, volume(VolumeUnit::Litres)),
                        unit(words::CUBIC_FEET, volume(VolumeUnit::CubicFeet)),
                    ]) }
                    { switch("run", words::RUN, vec![
                        unit(words::METRES, run(RunUnit::Metres)),
                        unit(words::FEET, run(RunUnit::Feet)),
                    ]) }
                    { switch("cable", words::CABLE, vec![
                        unit("mm²", cable(CableUnit::SquareMillimetres)),
                        unit("AWG", cable(CableUnit::Gauge)),
                    ]) }
                    { switch("heat", words::TEMPERATURE, vec![
                        unit("°C", heat(TemperatureUnit::Celsius)),
                        unit("°F", heat(TemperatureUnit::Fahrenheit)),
                    ]) }
                </section>
                <section class="sheet">{ head(words::THEME, "") }
                    { switch("paper", words::THEME, vec![
                        (words::SYSTEM, store.dark.is_none(), dark(None)),
                        (words::DAY, store.dark == Some(false), dark(Some(false))),
                        (words::NIGHT, store.dark == Some(true), dark(Some(true))),
                    ]) }
                    { switch("sound", words::SOUND, vec![
                        (words::ON, store.sound, sound(store, true)),
                        (words::OFF, !store.sound, sound(store, false)),
                    ]) }
                    { switch("hand", words::HAND, vec![
                        (words::RIGHT, !store.left, left(store, false)),
                        (words::LEFT, store.left, left(store, true)),
                    ]) }
                </section>
                <section class="sheet">{ head(words::ABOUT, "") }<p>{ words::ABOUT_TEXT }</p></section>
            </div>
        </div>
    }
}

fn sound(store: &Handle, on: bool) -> Callback<Event> {
    let store = store.clone();
    Callback::from(move |_: Event| store.dispatch(Msg::Sound(on)))
}

fn left(store: &Handle, left: bool) -> Callback<Event> {
    let store = store.clone();
    Callback::from(move |_: Event| store.dispatch(Msg::Left(left)))
}

/// A few choices side by side, one of them on.
fn switch(
    name: &'static str,
    legend: &'static str,
    choices: Vec<(&'static str, bool, Callback<Event>)>,
) -> Html {
    html! {
        <fieldset class="switch">
            <legend>{ legend }</legend>
            { for choices.into_iter().map(|(label, on, onchange)| html! {
                <label class={classes!("choice", on.then_some("on"))}>
                    <input type="radio" {name} value={label} checked={on} {onchange} />{ label }
                </label>
            }) }
        </fieldset>
    }
}
