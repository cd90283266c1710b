use ringbound::{demo, session::*};
fn main() {
    let dir = std::env::args().nth(1).unwrap();
    let (mut s, n) = Session::open(
        dir.as_ref(),
        Open::ForWriting,
        Box::new(|| "2026-01-01T00:00:00Z".into()),
    )
    .unwrap();
    println!("{n:?}");
    for step in demo::step_by_step() {
        s.commit(step).unwrap();
    }
}
