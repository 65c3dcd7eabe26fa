//! A big reading beside what is expected, with keys for one count less and more at the thumb.
use yew::prelude::*;

/// What the row shows, and what it tells.
pub struct ReadingRow<'a> {
    /// The input's name in the page.
    pub id: &'static str,
    /// Words over the reading.
    pub read: &'static str,
    /// Words over the expectation.
    pub expect: &'static str,
    /// What is expected.
    pub expected: &'a str,
    /// Unit of the reading.
    pub unit: &'static str,
    /// What is typed.
    pub text: &'a str,
    /// Whether that is no reading.
    pub bad: bool,
    /// Whether the left hand holds the phone.
    pub left: bool,
    /// Names of the two keys.
    pub steps: [&'static str; 2],
    /// What stands in the field after the one and the other.
    pub stepped: [String; 2],
    /// A new text.
    pub ontext: Callback<String>,
}

/// The row.
#[inline(never)]
pub fn reading_row(row: ReadingRow<'_>) -> Html {
    let oninput = {
        let ontext = row.ontext.clone();
        Callback::from(move |event: InputEvent| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            ontext.emit(input.value());
        })
    };
    let keys = row.steps.iter().zip(row.stepped).zip(["−", "+"]).map(|((label, next), sign)| {
        let ontext = row.ontext.clone();
        let onclick = Callback::from(move |_: MouseEvent| ontext.emit(next.clone()));
        html! { <button type="button" class="key step" aria-label={*label} {onclick}>{ sign }</button> }
    });
    let class = if row.left { "read left" } else { "read" };
    html! {
        <div {class}>
            <div class="fig"><span>{ row.expect }</span><b class="big">{ row.expected.to_owned() }</b></div>
            <div class="fig you"><label for={row.id}>{ row.read }</label>
                <span class="big"><input id={row.id} type="text" inputmode="decimal" autocomplete="off"
                    value={row.text.to_owned()} aria-invalid={row.bad.then_some("true")} {oninput} /><small>{ row.unit }</small></span></div>
            <div class="steps-keys">{ for keys }</div>
        </div>
    }
}
