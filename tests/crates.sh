# Which crates are built together. Sourced, not run, by `tests/run` and `tests/made_up_language`.

house=(--package evenloop-engine --package evenloop-engine-derive --package evenloop-app
  --package evenloop-server --features evenloop-app/ssr)
made_up_server=("${house[@]}" --features evenloop-app/made-up-language --bin evenloop-server --test made_up_language)
