//! The options for a binder and its pages.

use super::args::BinderArgs;
use super::error::CliError;
use crate::intake::BinderOptions;
use crate::layout::{parse_grid, parse_pocket};
use crate::model::{BinderKind, PageFormat};
use crate::supplies::Rings;

pub(super) fn binder_options(args: &BinderArgs) -> Result<Option<BinderOptions>, CliError> {
    if args.no_binder {
        return Ok(None);
    }
    let (rows, columns) = parse_grid(&args.page).map_err(CliError::usage)?;
    let pocket = args.pocket.as_deref().map(parse_pocket).transpose();
    let (pocket_width, pocket_height) = pocket.map_err(CliError::usage)?.unwrap_or_default();
    let format = PageFormat {
        shared: args.shared,
        opening: args.opening,
        pocket_width,
        pocket_height,
        ..PageFormat::new(rows, columns, args.sides)
    };
    if !format.is_possible() {
        return Err(CliError::usage(
            "--shared needs pages that are loaded on both sides",
        ));
    }
    let rings = args.rings.as_deref().map(Rings::parse).transpose();
    let kind = match rings.map_err(CliError::usage)? {
        Some(rings) => rings.kind(),
        None if args.fixed => BinderKind::Fixed,
        None => BinderKind::RINGS,
    };
    Ok(Some(BinderOptions { format, kind }))
}
