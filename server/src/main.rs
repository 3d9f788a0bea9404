fn main() {
    println!(
        "{}",
        evenloop_app::shell::render(
            &evenloop_app::shell::Assets {
                build: "b".into(),
                boot: "b".into(),
                script: "s".into(),
                wasm: "w".into(),
                style: "st".into()
            },
            "/now",
            None
        )
    );
}
