//! Where the drawings of hard moves lie. Their file is named by its content, so that a page of one build never
//! shows those of another; the page says the name.

/// The address of the file.
#[cfg(feature = "hydrate")]
pub(crate) fn drawings() -> String {
    web_sys::window()
        .and_then(|window| window.document()?.document_element())
        .and_then(|page| page.get_attribute("data-moves"))
        .unwrap_or_default()
}

/// The server has no drawings: they are shown only when the knitter asks for them.
#[cfg(not(feature = "hydrate"))]
pub(crate) fn drawings() -> String {
    String::new()
}
