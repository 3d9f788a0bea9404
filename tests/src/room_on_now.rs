//! Whether everything that is to be knitted has room on Now.

use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tokio::time::sleep;

use crate::phone::Phone;

/// The windows that are looked at, in px of the style sheet.
pub const SIZES: [(u32, u32); 6] = [
    (320, 568),
    (360, 640),
    (360, 740),
    (412, 915),
    (768, 1024),
    (1280, 800),
];
/// Longest wait for everything to find its room.
const PATIENCE: Duration = Duration::from_secs(2);

/// Gives the window a size.
pub async fn resize(phone: &Phone, (width, height): (u32, u32)) {
    let metrics =
        json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": true });
    phone
        .tools("Emulation.setDeviceMetricsOverride", metrics)
        .await;
}

/// What is still cut off when everything has had time to find its room.
pub async fn cut_off_for_good(phone: &Phone) -> Value {
    let begin = Instant::now();
    loop {
        let cut = cut_off(phone).await;
        if cut == json!([]) || begin.elapsed() > PATIENCE {
            return cut;
        }
        sleep(Duration::from_millis(30)).await;
    }
}

/// What is cut off, each with its text.
async fn cut_off(phone: &Phone) -> Value {
    phone
        .ask(
            "const cut = [];
             const box = document.querySelector('.instruction');
             const room = box.getBoundingClientRect();
             if (box.scrollHeight > box.clientHeight + 1)
                 cut.push(`the box is ${box.scrollHeight} high in ${box.clientHeight}`);
             const shown = [...document.querySelectorAll('.lines .thing')].filter((one) => one.offsetParent);
             if (shown.length === 0 && !document.querySelector('.instruction .note')) cut.push('nothing is shown');
             for (const one of shown) {
                 const at = one.getBoundingClientRect();
                 if (at.right > innerWidth + 1 || at.left < -1 || one.scrollWidth > one.clientWidth + 1)
                     cut.push(`too wide: ${one.textContent}`);
                 if (at.bottom > room.bottom + 1 || at.top < room.top - 1)
                     cut.push(`outside: ${one.textContent}`);
             }
             for (const css of ['.pad', '.undo', '.then']) {
                 const at = document.querySelector(css).getBoundingClientRect();
                 if (at.bottom > innerHeight + 1 || at.right > innerWidth + 1 || at.top < 0)
                     cut.push(`${css} is not in the window`);
             }
             // What comes next gives way before what is knitted now does.
             const fit = Number(document.querySelector('.now').dataset.fit);
             const next = document.querySelector('.then');
             const lines = next.getBoundingClientRect().height / parseFloat(getComputedStyle(next).lineHeight);
             if (fit > 1 && lines > 2.5) cut.push(`what comes next takes ${lines} lines`);
             // A side of its own is the picture's.
             const picture = document.querySelector('.now > .needles svg');
             if (innerWidth >= 896 && picture && picture.getBoundingClientRect().height < 100)
                 cut.push('the picture is not beside it');
             // Where it stands above the words it takes what they leave, and the fabric hangs as far down.
             const left = room.bottom - box.lastElementChild.getBoundingClientRect().bottom;
             const held = picture.closest('figure').getBoundingClientRect();
             const whole = held.width / 336 * (178 + 72);
             if (room.top >= held.bottom - 1 && left > (held.height ? 12 : 96) && held.height < whole - 2)
                 cut.push(`the picture leaves ${left} px`);
             return cut",
        )
        .await
}
