//! The address at which a phone reaches this server, and the QR code of it for the terminal.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, UdpSocket};

use qrcodegen::{QrCode, QrCodeEcc};

/// Pairs of an unspecified local address and an address set aside for documentation (RFC 5737,
/// RFC 3849). Nothing is ever sent to the latter; connecting a datagram socket to it only tells which
/// local address the system would send from.
const DOCUMENTATION_ADDRESSES: [(IpAddr, IpAddr); 2] = [
    (
        IpAddr::V4(Ipv4Addr::UNSPECIFIED),
        IpAddr::V4(Ipv4Addr::new(192, 0, 2, 1)),
    ),
    (
        IpAddr::V6(Ipv6Addr::UNSPECIFIED),
        IpAddr::V6(Ipv6Addr::new(0x2001, 0xdb8, 0, 0, 0, 0, 0, 1)),
    ),
];

/// The address at which others in the same network reach what listens on `local`. The loopback address
/// where there is no network.
pub fn reachable(local: SocketAddr) -> SocketAddr {
    if !local.ip().is_unspecified() {
        return local;
    }
    let found = DOCUMENTATION_ADDRESSES
        .iter()
        .find_map(|(from, to)| source_address(*from, *to));
    let ip = found.unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST));
    SocketAddr::new(ip, local.port())
}

/// The local address from which the system would send to `to`.
fn source_address(from: IpAddr, to: IpAddr) -> Option<IpAddr> {
    let socket = UdpSocket::bind((from, 0)).ok()?;
    // For datagrams this sends nothing; it only chooses a route.
    socket.connect((to, 9)).ok()?;
    let ip = socket.local_addr().ok()?.ip();
    (!ip.is_unspecified()).then_some(ip)
}

/// Width of the quiet zone around the code, in modules (ISO/IEC 18004).
const QUIET_ZONE: i32 = 4;
/// Black on white, whatever the terminal's own colours are: not every camera reads the reverse.
const BLACK_ON_WHITE: &str = "\x1b[38;5;16;48;5;231m";
const RESET_COLOURS: &str = "\x1b[0m";

/// The QR code of an address as lines for a terminal, two rows of modules in each. `None` for an
/// address that is too long for any code.
pub fn qr_code(address: &str) -> Option<String> {
    let code = QrCode::encode_text(address, QrCodeEcc::Medium).ok()?;
    let mut lines = String::new();
    let end = code.size() + QUIET_ZONE;
    for top in (-QUIET_ZONE..end).step_by(2) {
        lines.push_str(BLACK_ON_WHITE);
        for x in -QUIET_ZONE..end {
            lines.push(
                match (code.get_module(x, top), code.get_module(x, top + 1)) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                },
            );
        }
        lines.push_str(RESET_COLOURS);
        lines.push('\n');
    }
    Some(lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_specific_address_is_kept() {
        let local = SocketAddr::from(([127, 0, 0, 1], 3000));
        assert_eq!(reachable(local), local);
    }

    #[test]
    fn an_unspecified_address_is_replaced_by_a_reachable_one() {
        let found = reachable(SocketAddr::from(([0, 0, 0, 0], 3000)));
        assert!(!found.ip().is_unspecified(), "{found}");
        assert_eq!(found.port(), 3000);
    }

    #[test]
    fn a_code_is_square_where_letters_are_twice_as_tall_as_wide() {
        let lines = qr_code("http://192.0.2.1:3000/").unwrap_or_default();
        let height = lines.lines().count();
        for line in lines.lines() {
            let letters = line
                .trim_start_matches(BLACK_ON_WHITE)
                .trim_end_matches(RESET_COLOURS);
            assert_eq!(letters.chars().count().div_ceil(2), height);
        }
        assert_eq!(qr_code(&"x".repeat(3000)), None);
    }
}
