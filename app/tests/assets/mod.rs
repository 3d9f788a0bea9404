//! The files that pages of a test name: none of them is there.

use evenloop_app::shell::Assets;

pub(crate) fn some() -> Assets {
    Assets {
        build: "1".to_owned(),
        boot: "/b".to_owned(),
        first: "/f".to_owned(),
        modules: Vec::new(),
        wasm: "/w".to_owned(),
        parts: [].into(),
        style: "/s".to_owned(),
        icon: "/i".to_owned(),
        touch_icon: "/t".to_owned(),
    }
}
