//! A plain static host.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// Python's own file server, killed when dropped.
#[derive(Debug)]
pub struct Plain {
    child: Child,
    port: u16,
}

impl Plain {
    /// Serves a folder on a free port.
    pub fn serve(folder: &Path) -> Self {
        let mut child = Command::new("python3")
            .args([
                "-u",
                "-m",
                "http.server",
                "0",
                "--bind",
                "127.0.0.1",
                "--directory",
            ])
            .arg(folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("python3 is installed");
        let mut line = String::new();
        let output = child.stdout.take().expect("its output is piped");
        BufReader::new(output)
            .read_line(&mut line)
            .expect("it says where it is");
        let port = line
            .split_whitespace()
            .skip_while(|word| *word != "port")
            .nth(1)
            .and_then(|port| port.parse().ok())
            .unwrap_or_else(|| panic!("no port in {line:?}"));
        Self { child, port }
    }

    /// The address of a path.
    pub fn url(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.port)
    }
}

impl Drop for Plain {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
