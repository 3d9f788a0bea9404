//! Which device this is: an id made by chance when it is first needed, and what the knitter calls it. Logs name it,
//! so that where two devices went different ways it can be said which was knitted on which. Nothing else
//! is done with it, and it stays out of the texts of a backup: what is brought in elsewhere was not
//! knitted there.

use evenloop_engine::journal::{Device, DeviceId, tidy_device_name};
use evenloop_engine::json::from_json;
use serde::{Deserialize, Serialize};

use super::device::random;
use super::error::StoreError;
use super::handle::Store;
use super::keys;
use crate::text;

/// A device as it is stored and sent.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct DeviceForm {
    id: String,
    name: String,
}

impl DeviceForm {
    pub(super) fn of(device: &Device) -> Self {
        Self {
            id: device.id.to_string(),
            name: device.name.clone(),
        }
    }

    /// The device; `None` for what none is written as.
    pub(super) fn read(&self) -> Option<Device> {
        Some(Device {
            id: DeviceId::read(&self.id)?,
            name: tidy_device_name(&self.name),
        })
    }
}

impl Store<'_> {
    /// This device, if it was needed before.
    pub(super) fn known_device(self) -> Option<Device> {
        let text = self.shelf().get(keys::DEVICE).ok().flatten()?;
        from_json::<DeviceForm>(&text).ok()?.read()
    }

    /// This device. One that cannot be read, or is none yet, gets a new id and a name of two words.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn this_device(self) -> Result<Device, StoreError> {
        if let Some(device) = self.known_device() {
            return Ok(device);
        }
        let (high, low) = (random(), random());
        let device = Device {
            id: DeviceId::new(u64::from(high) << 32 | u64::from(low)),
            name: text::device::first_name(low),
        };
        self.put_device(&device)?;
        Ok(device)
    }

    /// Calls this device something else. Without a letter in it, it goes on being called what it was.
    ///
    /// # Errors
    /// When it cannot be stored.
    pub fn name_device(self, name: &str) -> Result<Device, StoreError> {
        let before = self.this_device()?;
        let name = tidy_device_name(name);
        if name.is_empty() || name == before.name {
            return Ok(before);
        }
        let device = Device { name, ..before };
        self.put_device(&device)?;
        Ok(device)
    }

    pub(super) fn put_device(self, device: &Device) -> Result<(), StoreError> {
        self.shelf().put(keys::DEVICE, &device_text(device))
    }
}

/// A device as it is stored.
pub(super) fn device_text(device: &Device) -> String {
    // Two plain texts: nothing in it that JSON could refuse.
    serde_json::to_string(&DeviceForm::of(device)).unwrap_or_default()
}
