//! From a recipe to a pair in the basket: the server makes the plan when it answers soon, the phone
//! makes it otherwise. Both give the same bytes.

use std::time::Duration;

use evenloop_engine::recipe::Recipe;
use evenloop_engine::wire;
use leptos::prelude::set_timeout_with_handle;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{AbortController, Headers, RequestInit, Response};

use crate::base::Base;
use crate::store::{self, PairId, StoreError};

const PLAN_ADDRESS: &str = "/api/plan";
/// Longer than that nobody waits beside a button; the phone needs a fraction of it.
const PATIENCE: Duration = Duration::from_millis(2_500);

/// Makes the plan, or both where left and right are not the same, puts the pair in the basket and
/// takes it in hand.
///
/// # Errors
/// When it cannot be stored; nothing is left behind then.
pub(super) async fn cast_on(
    base: &Base,
    recipe: &Recipe,
    name: &str,
) -> Result<PairId, StoreError> {
    let server = base.of(PLAN_ADDRESS);
    let first = document(&server, recipe).await;
    let second = match recipe.second_sock() {
        Some(recipe) => Some(document(&server, &recipe).await),
        None => None,
    };
    let id = store::here().create(name, &first, store::now())?;
    if let Some(second) = second {
        store::here()
            .set_own_plan(&id, 2, &second)
            .inspect_err(|_| {
                // Two left socks are no pair. That it cannot be taken away again does no harm.
                let _ = store::here().delete(&id);
            })?;
    }
    store::here().set_current(&id)?;
    store::ask_to_stay();
    Ok(id)
}

async fn document(server: &str, recipe: &Recipe) -> String {
    let asked = wire::write_recipe(recipe);
    let fits = |doc: &String| wire::read_plan(doc).is_ok_and(|plan| plan.recipe == *recipe);
    match from_server(server, &asked).await.filter(fits) {
        Some(doc) => doc,
        // The form has made this very plan a moment ago, so nothing is wrong with it; should it be,
        // the store refuses what is no plan.
        None => wire::plan_document(&asked).unwrap_or_default(),
    }
}

/// The server's plan; `None` without signal, without a server, or when it takes too long.
async fn from_server(address: &str, recipe: &str) -> Option<String> {
    let window = web_sys::window().filter(|window| window.navigator().on_line())?;
    let abort = AbortController::new().ok()?;
    let headers = Headers::new().ok()?;
    headers.set("content-type", "application/json").ok()?;
    let request = RequestInit::new();
    request.set_method("POST");
    request.set_headers(&headers);
    request.set_body(&JsValue::from_str(recipe));
    request.set_signal(Some(&abort.signal()));
    let timer = set_timeout_with_handle(move || abort.abort(), PATIENCE).ok()?;
    let answer = async {
        let fetched = window.fetch_with_str_and_init(address, &request);
        let response: Response = JsFuture::from(fetched).await.ok()?.dyn_into().ok()?;
        if !response.ok() {
            return None;
        }
        JsFuture::from(response.text().ok()?)
            .await
            .ok()?
            .as_string()
    }
    .await;
    timer.clear();
    answer
}
