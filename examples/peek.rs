use ringbound::{demo, session::Session, ui};
fn main() {
    let session = Session::in_memory(demo::collection());
    let look = ui::Look::from_env(|n| std::env::var(n).ok());
    ui::run(session, look, None).unwrap();
}
