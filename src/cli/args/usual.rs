//! What the settings say where the arguments say nothing.

use super::{
    BinderArgs, Cli, Command, ExportWhat, Import, LabelArgs, MeasureArgs, Print, SuppliesCommand,
};
use crate::plan::Working;
use crate::settings::Settings;

impl Cli {
    /// Puts in what is usual, for every argument that was not given.
    pub fn fill(&mut self, settings: &Settings) {
        let given = std::mem::take(&mut self.given);
        let usual = Usual {
            settings,
            is_given: &|name| given.contains(name),
        };
        usual.put("pictures", &mut self.pictures, settings.screen.pictures);
        if let Some(command) = &mut self.command {
            usual.fill(command);
        }
        self.given = given;
    }
}

struct Usual<'s> {
    settings: &'s Settings,
    is_given: &'s dyn Fn(&str) -> bool,
}

impl Usual<'_> {
    fn put<T>(&self, name: &str, place: &mut T, usual: T) {
        if !(self.is_given)(name) {
            *place = usual;
        }
    }

    fn fill(&self, command: &mut Command) {
        let collecting = &self.settings.collecting;
        match command {
            Command::New(args) => self.binder(&mut args.binder),
            Command::Import {
                what: Import::Checklist(args),
            } => self.binder(&mut args.binder),
            Command::Spares(args) => self.put("keep", &mut args.keep, collecting.keep),
            Command::Swap(args) => self.put("keep", &mut args.keep, collecting.keep),
            Command::Export(args) if args.what == ExportWhat::Spares => {
                self.put("keep", &mut args.keep, collecting.keep);
            }
            Command::SortPile(args) => self.put("heaps", &mut args.heaps, collecting.heaps),
            // Arrangements of files are nobody's.
            Command::Plan(args) if args.after.is_none() => self.working(&mut args.working),
            Command::Fit(args) => self.measure(&mut args.measure),
            Command::Supplies(args) => match &mut args.command {
                Some(SuppliesCommand::Compare(args)) => self.measure(&mut args.measure),
                None => self.measure(&mut args.counted.measure),
            },
            Command::Print { what } => self.print(what),
            _ => {}
        }
    }

    fn binder(&self, args: &mut BinderArgs) {
        let usual = &self.settings.collecting;
        let (rows, columns) = usual.page;
        self.put("page", &mut args.page, format!("{rows}x{columns}"));
        self.put("sides", &mut args.sides, usual.sides);
        self.put("opening", &mut args.opening, usual.opening);
        if args.rings.is_none() {
            self.put("fixed", &mut args.fixed, usual.fixed);
        }
    }

    fn working(&self, working: &mut Working) {
        self.put("working", working, self.settings.collecting.working);
    }

    fn measure(&self, args: &mut MeasureArgs) {
        self.put("sleeves", &mut args.sleeves, self.settings.supplies.sleeves);
    }

    fn print(&self, what: &mut Print) {
        let collecting = &self.settings.collecting;
        match what {
            Print::Labels(args) => self.labels(args),
            Print::Spares { spares, .. } => self.put("keep", &mut spares.keep, collecting.keep),
            Print::Swap { swap, .. } => self.put("keep", &mut swap.keep, collecting.keep),
            Print::WorkSheet { plan, .. } => self.working(&mut plan.working),
            Print::Pile { pile, .. } => self.put("heaps", &mut pile.heaps, collecting.heaps),
            Print::Shopping(args) => self.measure(&mut args.counted.measure),
            _ => {}
        }
        let paper = what.paper_mut();
        if paper.paper.is_none() {
            paper.usual = self.settings.paper.size.clone();
        }
    }

    fn labels(&self, args: &mut LabelArgs) {
        let usual = &self.settings.paper;
        self.put("margin", &mut args.margin, usual.label_margin);
        self.put("foot", &mut args.foot, usual.label_foot);
        self.put("reading", &mut args.reading, usual.label_reading);
    }
}
