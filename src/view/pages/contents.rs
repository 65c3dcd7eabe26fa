//! What the place holds, to jump to.
use yew::prelude::*;

use crate::design::warnings::Place;
use crate::platform::{Timeout, page};
use crate::view::app::place_name;
use crate::view::components::head;
use crate::view::store::{Handle, Msg, Panel};
use crate::words::{car, page as words, quick, saw, settings};

const DESK: &[(&str, &str)] = &[
    ("picture", words::BOX_DRAWN),
    ("curves", words::CURVES),
    ("driver", words::DRIVER),
    ("box", words::BOX),
    ("drive", words::DRIVE),
];
const SAW: &[(&str, &str)] = &[
    ("picture", words::BOX_DRAWN),
    ("ledger", saw::LEDGER),
    ("fence", saw::FENCE),
    ("parts", saw::CUT_LIST),
    ("space", words::SPACE),
    ("build", words::BUILD),
];
const CAR: &[(&str, &str)] = &[
    ("meter", crate::words::meter::TITLE),
    ("powerup", crate::words::powerup::TITLE),
    ("quick", quick::TITLE),
    ("trials", crate::words::trials::TITLE),
    ("wiring", car::WIRING),
    ("feed", car::FEED),
    ("amplifier", car::AMPLIFIER),
    ("run", car::FEED_ENTRIES),
];

/// What each place holds.
#[inline(never)] // a page of its own, so that it may come after the first result
pub fn contents(store: &Handle) -> Html {
    let places = [(Place::Desk, DESK), (Place::Saw, SAW), (Place::Car, CAR)];
    html! {
        <div class="columns panel">
            <div class="column">
                <h1 class="line">{ settings::CONTENTS }</h1>
                { for places.into_iter().map(|(place, rows)| html! {
                    <section class="sheet">{ head(place_name(place), "") }
                        { for rows.iter().map(|(id, label)| {
                            let store = store.clone();
                            let onclick = Callback::from(move |_: MouseEvent| {
                                store.dispatch(Msg::Go(place));
                                store.dispatch(Msg::Show(Panel::None));
                                // The sheet is there only after the next render.
                                Timeout::new(60, move || page::scroll_to(id)).forget();
                            });
                            html! { <button type="button" class="jump" {onclick}>{ *label }</button> }
                        }) }
                    </section>
                }) }
            </div>
        </div>
    }
}
