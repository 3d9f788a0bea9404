//! The content security policy of every page: what it may load and run.

/// Nothing from other origins, nothing inline; `wasm-unsafe-eval` allows compiling the app's wasm. Text becomes
/// elements or the address of a script only as the boot script's policy for trusted types lets it.
macro_rules! page_policy {
    () => {
        "default-src 'none'; \
         script-src 'self' 'wasm-unsafe-eval'; \
         style-src 'self'; \
         img-src 'self' data:; \
         connect-src 'self'; \
         manifest-src 'self'; \
         worker-src 'self'; \
         base-uri 'none'; \
         form-action 'self'; \
         require-trusted-types-for 'script'; \
         trusted-types default"
    };
}

/// The policy as a page says it itself. Who may frame the page can only be said by a header.
pub const IN_PAGE: &str = page_policy!();
/// The policy as a header says it.
pub const IN_HEADER: &str = concat!(page_policy!(), "; frame-ancestors 'none'");
