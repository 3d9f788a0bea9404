//! A moment in words, as the device's clock and place have it. May talk to the browser; must not know any screen.

use evenloop_engine::text::English;

/// A moment in words, by the device's clock and place; `seconds` since 1970.
pub(crate) fn moment(seconds: u64, english: English) -> String {
    let words = js_sys::Object::new();
    for (field, value) in [("dateStyle", "medium"), ("timeStyle", "short")] {
        // A plain field on a new object: that cannot fail.
        let _ = js_sys::Reflect::set(&words, &field.into(), &value.into());
    }
    #[allow(clippy::cast_precision_loss)] // what does not fit is no day that anybody lives to see
    let moment = js_sys::Date::new(&(seconds as f64 * 1000.0).into());
    moment.to_locale_string(english.tag(), &words).into()
}
