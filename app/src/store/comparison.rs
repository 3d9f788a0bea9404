//! When both copies of what is stored are compared. Packing fills this into the script that compares them
//! (`public/echo.js`), and whoever waits for it goes by the same time.

use std::time::Duration;

/// From the start of a page until its copies are compared: long after the first touches have had their answers.
pub const COMPARED_AFTER: Duration = Duration::from_secs(5);

/// By when a usual basket has been compared, on a device that is not busy; what was to be set aside is by then.
pub const COMPARED_BY: Duration = Duration::from_secs(COMPARED_AFTER.as_secs() + 2);
