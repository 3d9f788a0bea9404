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

/// Drawings are shown when they are asked for, which nobody does of the server.
#[cfg(not(feature = "hydrate"))]
pub(crate) fn drawings() -> String {
    String::new()
}
