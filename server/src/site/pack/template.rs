//! Scripts with placeholders that packing fills in: the boot script and the service worker.

use crate::error::Error;

/// A script and its file name, for messages.
#[derive(Debug)]
pub(super) struct Template<'a> {
    pub(super) file: &'static str,
    pub(super) text: &'a str,
}

impl Template<'_> {
    /// Replaces each placeholder by its value, wherever it stands.
    ///
    /// # Errors
    /// When a placeholder is missing: the script would lack what it needs.
    pub(super) fn fill(&self, values: &[(&'static str, &str)]) -> Result<String, Error> {
        let mut text = self.text.to_owned();
        for &(placeholder, value) in values {
            if !text.contains(placeholder) {
                return Err(Error::MissingPlaceholder {
                    file: self.file,
                    placeholder,
                });
            }
            text = text.replace(placeholder, value);
        }
        Ok(text)
    }
}

/// Strings as the items of an array in a script. They are our own addresses and contain no quotes.
pub(super) fn quoted(items: &[impl AsRef<str>]) -> String {
    let items: Vec<String> = items
        .iter()
        .map(|item| format!("'{}'", item.as_ref()))
        .collect();
    items.join(", ")
}

/// Any strings as the items of an array in a script.
pub(super) fn any_strings(items: &[impl AsRef<str>]) -> String {
    let items: Vec<String> = items
        .iter()
        .map(|item| serde_json::Value::from(item.as_ref()).to_string())
        .collect();
    items.join(", ")
}
