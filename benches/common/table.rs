//! The one form in which a ratio is told beside its goal: what, size, ratio, goal, met or not.

/// The begin of every line of the table, so that it can be told from what else a bench says.
const BAR: &str = "|";

/// What a ratio is held against.
#[derive(Clone, Copy)]
pub(crate) enum Goal {
    AtMost(f64),
    AtLeast(f64),
    /// Told, and held against nothing.
    Told,
}

/// Tells a ratio as a line of the table.
pub(crate) fn tell(what: &str, size: impl ToString, ratio: f64, goal: Goal) {
    let (goal, verdict) = match goal {
        Goal::AtMost(most) if ratio <= most => (format!("<= {most}"), "met"),
        Goal::AtMost(most) => (format!("<= {most}"), "MISSED"),
        Goal::AtLeast(least) if ratio >= least => (format!(">= {least}"), "met"),
        Goal::AtLeast(least) => (format!(">= {least}"), "MISSED"),
        Goal::Told => (String::new(), ""),
    };
    line([what, &size.to_string(), &short(ratio), &goal, verdict]);
}

/// Tells what could not be measured on this machine, and why.
pub(crate) fn skipped(what: &str, size: impl ToString, why: &str) {
    line([what, &size.to_string(), "", why, "SKIPPED"]);
}

/// Tells what is promised and was not measured: as much as a goal that is missed.
pub(crate) fn missed(what: &str, size: impl ToString, why: &str) {
    line([what, &size.to_string(), "", why, "MISSED"]);
}

/// The line above the others, and whether a line is one of the table.
pub(crate) fn head() {
    line(["what", "size", "ratio", "goal", ""]);
}

pub(crate) fn is_line(text: &str) -> bool {
    text.starts_with(BAR)
}

fn line([what, size, ratio, goal, verdict]: [&str; 5]) {
    println!("{BAR} {what:<62} | {size:>12} | {ratio:>8} | {goal:>8} | {verdict}");
}

/// Three figures, since no more are sure.
fn short(ratio: f64) -> String {
    match ratio {
        0.0 => "0".into(),
        _ if ratio.abs() < 0.001 => format!("{ratio:.1e}"),
        _ if ratio.abs() < 0.1 => format!("{ratio:.4}"),
        _ if ratio.abs() < 100.0 => format!("{ratio:.2}"),
        _ => format!("{ratio:.0}"),
    }
}

/// The middle of an odd number of measurements.
pub(crate) fn median(mut of: Vec<f64>) -> f64 {
    of.sort_by(f64::total_cmp);
    of[of.len() / 2]
}

/// Median of the ratios round by round.
pub(crate) fn paired(ours: &[f64], theirs: &[f64]) -> f64 {
    median(ours.iter().zip(theirs).map(|(a, b)| a / b).collect())
}

/// Milliseconds.
pub(crate) fn timed(deed: impl FnOnce()) -> f64 {
    let begun = std::time::Instant::now();
    deed();
    begun.elapsed().as_secs_f64() * 1e3
}
