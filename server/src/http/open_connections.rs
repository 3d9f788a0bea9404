//! How many connections are open, and which are closed so that others can be served: load shedding and
//! the per-address limit.

use std::collections::HashMap;
use std::net::{IpAddr, Ipv6Addr};
use std::num::NonZeroU32;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::{Instant, timeout};

use crate::http::activity::{Activity, Phase};

/// One part in so many of all connections is kept free by shedding, so that a caller finds room at once.
const RESERVE_PARTS: u32 = 8;
/// One part in so many of that is shed at a time: to find the longest idle, all are looked at.
const BATCH_PARTS: usize = 4;
/// An answer that has made no progress for so long may be given up for another caller.
const STALLED_AFTER: Duration = Duration::from_secs(5);
/// Time between two searches for what can be shed, where nothing could be.
const SHED_INTERVAL: Duration = Duration::from_millis(100);

/// How many connections may be open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ConnectionLimits {
    /// All of them. Further ones wait in the system's accept queue.
    pub all: NonZeroU32,
    /// How many one address has.
    pub per_address: PerAddressLimit,
}

/// How many connections one address may have. Of IPv6 the first 64 bits count as the address: that is what
/// a single subscriber is given (RFC 6177, 2).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PerAddressLimit {
    /// At most so many for each address, except for this machine's own: from there a proxy makes all connections.
    Remote(NonZeroU32),
    /// At most so many for each address.
    Every(NonZeroU32),
    /// As many as there are.
    Unlimited,
}

impl PerAddressLimit {
    fn of(self, address: IpAddr) -> Option<u32> {
        match self {
            Self::Remote(_) if address.is_loopback() => None,
            Self::Remote(limit) | Self::Every(limit) => Some(limit.get()),
            Self::Unlimited => None,
        }
    }
}

/// What counts as one address.
fn network(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(address) if !address.is_loopback() => {
            let prefix = u128::from(address) >> 64 << 64;
            IpAddr::V6(Ipv6Addr::from(prefix))
        }
        address => address,
    }
}

/// All open connections. Clones share them.
#[derive(Debug, Clone)]
pub(crate) struct OpenConnections {
    limits: ConnectionLimits,
    places: Arc<Semaphore>,
    table: Arc<Mutex<Table>>,
}

/// A place for one connection, before it is known whose.
#[derive(Debug)]
pub(crate) struct Place(OwnedSemaphorePermit);

/// An open connection, until it is dropped.
#[derive(Debug)]
pub(crate) struct OpenConnection {
    pub(crate) activity: Arc<Activity>,
    number: u64,
    connections: OpenConnections,
    _permit: OwnedSemaphorePermit,
}

/// The address has as many connections as it may, and all of them are at work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TooManyOfOneAddress;

#[derive(Debug, Default)]
struct Table {
    next_number: u64,
    open: HashMap<u64, Entry>,
    /// How many of them each address has, without those that are being shed.
    by_network: HashMap<IpAddr, u32>,
    /// How many are being shed.
    leaving: usize,
}

#[derive(Debug)]
struct Entry {
    network: IpAddr,
    activity: Arc<Activity>,
}

impl OpenConnections {
    pub(crate) fn new(limits: ConnectionLimits) -> Self {
        let all = usize::try_from(limits.all.get()).unwrap_or(Semaphore::MAX_PERMITS);
        Self {
            limits,
            places: Arc::new(Semaphore::new(all.min(Semaphore::MAX_PERMITS))),
            table: Arc::default(),
        }
    }

    /// Waits for a place, and sheds what is idle before there is none left. `None` once closed, which
    /// it never is while the server accepts.
    pub(crate) async fn place(&self) -> Option<Place> {
        let reserve = self.limits.all.get().div_ceil(RESERVE_PARTS) as usize;
        loop {
            let free = self.places.available_permits();
            if free < reserve {
                self.shed(reserve - free, reserve / BATCH_PARTS);
            }
            let place = Arc::clone(&self.places).acquire_owned();
            if let Ok(place) = timeout(SHED_INTERVAL, place).await {
                return place.ok().map(Place);
            }
        }
    }

    /// Gives the place to a connection from an address. Where the address has as many as it may, its own
    /// longest idle one makes way.
    pub(crate) fn open(
        &self,
        place: Place,
        address: IpAddr,
    ) -> Result<OpenConnection, TooManyOfOneAddress> {
        let network = network(address);
        let mut table = self.table();
        if let Some(limit) = self.limits.per_address.of(network)
            && table.by_network.get(&network).copied().unwrap_or(0) >= limit
        {
            let theirs = |entry: &Entry| entry.network == network;
            if table.shed(1, theirs) == 0 {
                return Err(TooManyOfOneAddress);
            }
        }
        let activity = Activity::new();
        let number = table.add(network, Arc::clone(&activity));
        Ok(OpenConnection {
            activity,
            number,
            connections: self.clone(),
            _permit: place.0,
        })
    }

    /// How many are open.
    pub(crate) fn count(&self) -> usize {
        self.table().open.len()
    }

    /// Completes when all are closed.
    pub(crate) async fn all_closed(&self) {
        let all = self.limits.all.get();
        // Never closed, so this cannot fail.
        let _ = self.places.acquire_many(all).await;
    }

    /// Sees to it that so many are being closed; where that takes more than are closed already, at least a batch.
    fn shed(&self, wanted: usize, batch: usize) {
        let mut table = self.table();
        let wanted = wanted.saturating_sub(table.leaving);
        if wanted == 0 {
            return;
        }
        let shed = table.shed(wanted.max(batch), |_| true);
        if shed > 0 {
            tracing::debug!(connections = shed, "shed");
        }
    }

    fn table(&self) -> MutexGuard<'_, Table> {
        self.table.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Table {
    fn add(&mut self, network: IpAddr, activity: Arc<Activity>) -> u64 {
        let number = self.next_number;
        self.next_number += 1;
        *self.by_network.entry(network).or_default() += 1;
        self.open.insert(number, Entry { network, activity });
        number
    }

    fn remove(&mut self, number: u64) {
        if let Some(entry) = self.open.remove(&number) {
            if entry.activity.is_shed() {
                self.leaving -= 1;
            } else {
                self.leave_network(entry.network);
            }
        }
    }

    fn leave_network(&mut self, network: IpAddr) {
        if let Some(count) = self.by_network.get_mut(&network) {
            *count -= 1;
            if *count == 0 {
                self.by_network.remove(&network);
            }
        }
    }

    /// Sheds so many of those that may be: idle ones first, then those whose requests do not arrive, then
    /// those whose answers are not taken; of each the longest without progress first. How many it was.
    fn shed(&mut self, wanted: usize, may_be: impl Fn(&Entry) -> bool) -> usize {
        if wanted == 0 {
            return 0;
        }
        let now = Instant::now();
        let mut candidates: Vec<_> = self
            .open
            .iter()
            .filter(|(_, entry)| may_be(entry) && !entry.activity.is_shed())
            .map(|(number, entry)| (entry.activity.phase(), *number))
            .filter(|((phase, progress), _)| {
                *phase != Phase::Answering || now.duration_since(*progress) > STALLED_AFTER
            })
            .collect();
        if wanted < candidates.len() {
            candidates.select_nth_unstable(wanted);
            candidates.truncate(wanted);
        }
        for (_, number) in &candidates {
            if let Some(entry) = self.open.get(number) {
                let network = entry.network;
                entry.activity.shed();
                self.leaving += 1;
                self.leave_network(network);
            }
        }
        candidates.len()
    }
}

impl Drop for OpenConnection {
    fn drop(&mut self) {
        self.connections.table().remove(self.number);
    }
}

#[cfg(test)]
mod tests {
    use std::net::Ipv4Addr;

    use super::*;
    use crate::http::activity::RequestInProgress;

    const HOME: IpAddr = IpAddr::V4(Ipv4Addr::new(192, 0, 2, 1));
    const NEIGHBOUR: IpAddr = IpAddr::V4(Ipv4Addr::new(192, 0, 2, 2));

    fn number(number: u32) -> NonZeroU32 {
        NonZeroU32::new(number).unwrap_or(NonZeroU32::MIN)
    }

    fn connections(all: u32, per_address: PerAddressLimit) -> OpenConnections {
        let all = number(all);
        OpenConnections::new(ConnectionLimits { all, per_address })
    }

    async fn open(connections: &OpenConnections, address: IpAddr) -> Option<OpenConnection> {
        let place = connections.place().await?;
        connections.open(place, address).ok()
    }

    #[tokio::test]
    async fn near_the_limit_the_longest_idle_are_shed_and_those_at_work_are_not() {
        let connections = connections(16, PerAddressLimit::Unlimited);
        let mut open_ones = Vec::new();
        for _ in 0..14 {
            open_ones.extend(open(&connections, HOME).await);
        }
        let at_work = RequestInProgress::begin(&open_ones[0].activity);
        assert!(open_ones.iter().all(|open| !open.activity.is_shed()));
        let fifteenth = open(&connections, HOME).await;
        assert!(fifteenth.is_some());
        let sixteenth = open(&connections, HOME).await;
        assert!(sixteenth.is_some());
        let shed: Vec<_> = (0..14)
            .filter(|at| open_ones[*at].activity.is_shed())
            .collect();
        assert_eq!(shed, [1]);
        drop(at_work);
    }

    #[tokio::test]
    async fn an_address_at_its_limit_loses_its_own_idle_connection() {
        let connections = connections(100, PerAddressLimit::Remote(number(2)));
        let neighbour = open(&connections, NEIGHBOUR).await;
        let first = open(&connections, HOME).await;
        let second = open(&connections, HOME).await;
        let third = open(&connections, HOME).await;
        let is_shed = |open: &Option<OpenConnection>| {
            open.as_ref().is_some_and(|open| open.activity.is_shed())
        };
        assert!(third.is_some() && is_shed(&first));
        assert!(!is_shed(&second) && !is_shed(&neighbour));
    }

    #[tokio::test]
    async fn an_address_whose_connections_are_all_at_work_gets_no_other() {
        let connections = connections(100, PerAddressLimit::Remote(number(2)));
        let mut at_work = Vec::new();
        for _ in 0..2 {
            let open = open(&connections, HOME).await;
            at_work.extend(open.map(|open| (RequestInProgress::begin(&open.activity), open)));
        }
        assert_eq!(at_work.len(), 2);
        assert!(open(&connections, HOME).await.is_none());
        assert!(open(&connections, NEIGHBOUR).await.is_some());
        at_work.pop();
        assert!(open(&connections, HOME).await.is_some());
    }

    #[tokio::test]
    async fn a_closed_connection_leaves_nothing_behind() {
        let connections = connections(2, PerAddressLimit::Every(number(1)));
        for _ in 0..10 {
            assert!(open(&connections, HOME).await.is_some());
        }
        assert_eq!(connections.count(), 0);
        assert!(connections.table().by_network.is_empty());
        assert_eq!(connections.table().leaving, 0);
        connections.all_closed().await;
    }

    #[test]
    fn of_ipv6_the_first_64_bits_are_one_address() {
        let parse = |text: &str| text.parse().ok().map(network);
        assert_eq!(parse("2001:db8::1"), parse("2001:db8::ffff:0:0:2"));
        assert_ne!(parse("2001:db8::1"), parse("2001:db8:0:1::1"));
        assert_eq!(parse("::ffff:192.0.2.1"), Some(HOME));
        assert!(parse("::1").is_some_and(|address| address.is_loopback()));
    }

    #[test]
    fn a_proxy_on_this_machine_is_not_limited_unless_that_is_asked_for() {
        let limit = number(3);
        let loopback = IpAddr::V4(Ipv4Addr::LOCALHOST);
        assert_eq!(PerAddressLimit::Remote(limit).of(loopback), None);
        assert_eq!(PerAddressLimit::Remote(limit).of(HOME), Some(3));
        assert_eq!(PerAddressLimit::Every(limit).of(loopback), Some(3));
        assert_eq!(PerAddressLimit::Unlimited.of(HOME), None);
    }
}
