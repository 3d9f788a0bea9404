//! Where a phone finds this server: the address to say, and to show as a code for its camera.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, UdpSocket};

use qrcodegen::{QrCode, QrCodeEcc};

/// Addresses set aside for documentation (RFC 5737, RFC 3849). Nothing is ever sent there; they only
/// ask the system which of its own addresses leads out.
const OUTSIDE: [(IpAddr, IpAddr); 2] = [
    (
        IpAddr::V4(Ipv4Addr::UNSPECIFIED),
        IpAddr::V4(Ipv4Addr::new(192, 0, 2, 1)),
    ),
    (
        IpAddr::V6(Ipv6Addr::UNSPECIFIED),
        IpAddr::V6(Ipv6Addr::new(0x2001, 0xdb8, 0, 0, 0, 0, 0, 1)),
    ),
];

/// The address under which others in the same network find what listens on `local`. The machine
/// itself where there is no network.
pub fn reachable(local: SocketAddr) -> SocketAddr {
    if !local.ip().is_unspecified() {
        return local;
    }
    let found = OUTSIDE.iter().find_map(|(from, to)| leading_to(*from, *to));
    let ip = found.unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST));
    SocketAddr::new(ip, local.port())
}

fn leading_to(from: IpAddr, to: IpAddr) -> Option<IpAddr> {
    let socket = UdpSocket::bind((from, 0)).ok()?;
    // For datagrams this sends nothing; it only chooses a way.
    socket.connect((to, 9)).ok()?;
    let ip = socket.local_addr().ok()?.ip();
    (!ip.is_unspecified()).then_some(ip)
}

/// Modules of white round the code (ISO/IEC 18004).
const MARGIN: i32 = 4;
/// Black on white, whatever the terminal's own colours are: not every camera reads the reverse.
const COLOURS: &str = "\x1b[38;5;16;48;5;231m";
const NO_COLOURS: &str = "\x1b[0m";

/// An address as lines for a terminal, two rows of the code in each. `None` for one that is too long
/// for any code.
pub fn code(address: &str) -> Option<String> {
    let code = QrCode::encode_text(address, QrCodeEcc::Medium).ok()?;
    let mut lines = String::new();
    let end = code.size() + MARGIN;
    for top in (-MARGIN..end).step_by(2) {
        lines.push_str(COLOURS);
        for x in -MARGIN..end {
            lines.push(
                match (code.get_module(x, top), code.get_module(x, top + 1)) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                },
            );
        }
        lines.push_str(NO_COLOURS);
        lines.push('\n');
    }
    Some(lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_of_its_own_stays() {
        let local = SocketAddr::from(([127, 0, 0, 1], 3000));
        assert_eq!(reachable(local), local);
    }

    #[test]
    fn listening_everywhere_is_no_address_to_go_to() {
        let found = reachable(SocketAddr::from(([0, 0, 0, 0], 3000)));
        assert!(!found.ip().is_unspecified(), "{found}");
        assert_eq!(found.port(), 3000);
    }

    #[test]
    fn a_code_is_square_in_a_terminal_of_tall_letters() {
        let lines = code("http://192.0.2.1:3000/").unwrap_or_default();
        let height = lines.lines().count();
        for line in lines.lines() {
            let letters = line
                .trim_start_matches(COLOURS)
                .trim_end_matches(NO_COLOURS);
            assert_eq!(letters.chars().count().div_ceil(2), height);
        }
        assert_eq!(code(&"x".repeat(3000)), None);
    }
}
