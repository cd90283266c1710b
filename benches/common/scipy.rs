//! `scipy.optimize.linear_sum_assignment` in a Python process beside the bench, if there is one.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// Reads a matrix as triples (row, column, weight); then times the solver on it as often as asked.
const SCRIPT: &str = r#"
import sys, time
import numpy as np
from scipy.optimize import linear_sum_assignment
print("ready", flush=True)
for line in sys.stdin:
    words = line.split()
    if words[0] == "matrix":
        matrix = np.zeros((int(words[1]), int(words[2])))
        for _ in range(int(words[3])):
            row, column, weight = map(int, sys.stdin.readline().split())
            matrix[row, column] = weight
        print("read", flush=True)
    else:
        begun = time.perf_counter()
        rows, columns = linear_sum_assignment(matrix, maximize=True)
        taken = time.perf_counter() - begun
        print(taken * 1e3, int(matrix[rows, columns].sum()), flush=True)
"#;

pub(crate) struct Scipy {
    process: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
}

impl Scipy {
    /// `None` where there is no Python with scipy.
    pub(crate) fn start() -> Option<Self> {
        let mut process = Command::new("python3")
            .args(["-c", SCRIPT])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .ok()?;
        let mut scipy = Self {
            to: process.stdin.take()?,
            from: BufReader::new(process.stdout.take()?),
            process,
        };
        (scipy.answer() == "ready").then_some(scipy)
    }

    fn answer(&mut self) -> String {
        let mut line = String::new();
        self.from.read_line(&mut line).unwrap_or_default();
        line.trim().to_owned()
    }

    pub(crate) fn matrix(&mut self, rows: usize, columns: usize, of: &[(usize, u32, u32)]) {
        let mut text = format!("matrix {rows} {columns} {}\n", of.len());
        for (row, column, weight) in of {
            text.push_str(&format!("{row} {column} {weight}\n"));
        }
        self.to.write_all(text.as_bytes()).expect("a matrix");
        self.to.flush().expect("a matrix");
        assert_eq!(self.answer(), "read");
    }

    /// Milliseconds, and the weight of the best assignment.
    pub(crate) fn solve(&mut self) -> (f64, u64) {
        writeln!(self.to, "solve").expect("a question");
        self.to.flush().expect("a question");
        let answer = self.answer();
        let (time, weight) = answer.split_once(' ').expect("two numbers");
        (
            time.parse().expect("a time"),
            weight.parse().expect("a weight"),
        )
    }
}

impl Drop for Scipy {
    fn drop(&mut self) {
        drop(self.process.kill());
        drop(self.process.wait());
    }
}
