//! Why something cannot be done by hand.

use crate::model::Refused;

/// Why a deed is not possible here. Shown with [`std::fmt::Display`], as half a sentence.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Cannot {
    // What is not there.
    #[error("the binder is gone")]
    BinderGone,
    #[error("the set is gone")]
    SetGone,
    #[error("there is no such set")]
    NoSuchSet,
    #[error("the set has no such finish")]
    NoSuchFinish,
    #[error("there is no such page")]
    NoSuchPage,
    #[error("there are no such pages")]
    NoSuchPages,
    #[error("there is no page here")]
    NoPageHere,
    #[error("there is no page there yet")]
    NoPageYet,
    #[error("there is no page")]
    NoPage,
    #[error("there is no such place for a page")]
    NoSuchPagePlace,
    #[error("there is no such pocket")]
    NoSuchPocket,

    // A pocket and its card.
    #[error("the pocket holds a card already")]
    PocketFilled,
    #[error("the pocket holds a card; take it out first")]
    TakeOutFirst,
    #[error("the pocket is empty")]
    PocketEmpty,
    #[error("the pocket is meant for no card")]
    MeantForNoCard,
    #[error("there is no loose copy of this card")]
    NoLooseCopy,
    #[error("the pocket is so already")]
    MeansSo,
    #[error("say what the keepsake is")]
    NoKeepsakeWords,
    #[error("these are too many words for a keepsake")]
    KeepsakeTooLong,
    #[error("say how many pockets")]
    NoNumberOfPockets,
    #[error("there is room here already")]
    RoomAlready,
    #[error("every card of the set has its pocket")]
    EveryCardHasItsPocket,
    #[error("no pocket is free from here on; put in a page first")]
    NoneFree,
    #[error("the binder is for no set")]
    NoSet,

    // Cards that are carried.
    #[error("nothing is in hand")]
    NothingInHand,
    #[error("there is nothing to carry in this pocket")]
    NothingToCarry,
    #[error("the card and the pocket are in different binders")]
    OtherBinder,
    #[error("the pockets there are of another size")]
    OtherSize,
    #[error("the layout has another page format there")]
    OtherFormat,
    #[error("front and back share a pocket: the card in front is in the way")]
    CardInFront,
    #[error("the same is there already")]
    SameThere,
    #[error("it lies there already")]
    LiesThere,
    #[error("it would be put down on itself")]
    OnItself,
    #[error("it stands in front already")]
    StandsInFront,
    #[error("it stands at the back already")]
    StandsAtBack,
    #[error("no pocket of this page takes a card")]
    TakesNoCard,
    #[error("there are not as many pockets from here on")]
    TooFewPockets,
    #[error("there is no room to push the others to")]
    NoRoomToPush,
    #[error("there is no room further on; put in a page first")]
    NoRoomFurtherOn,
    #[error("this pocket is left empty on purpose: swap with it, or make it free first")]
    BlankThere,
    #[error("a keepsake is here: swap with it, or make the pocket free first")]
    KeepsakeThere,
    #[error("mark two cards or more first")]
    MarkTwo,
    #[error("the cards are in this order already")]
    InThisOrder,
    #[error("gather in a draft; adopting it gives the work sheet")]
    GatherInDraft,
    #[error("no card of that rarity has a pocket here")]
    NoneOfRarity,
    #[error("they stand in front already")]
    GatheredAlready,

    // Pages.
    #[error("the pages of this binder are fixed")]
    PagesFixed,
    #[error("the pages of this binder are fixed, and those in between have other pockets")]
    FixedOtherPockets,
    #[error("the pages of a fixed binder cannot come out, and none can go in")]
    FixedInAndOut,
    #[error("the page is there already")]
    PageThere,
    #[error("the page is of this format already")]
    OfFormat,
    #[error("a page has 1 to 20 rows and columns, and 1 or 2 sides")]
    ImpossibleFormat,
    #[error("this is the same binder")]
    SameBinder,
    #[error("a draft is of one binder: its pages cannot go into another")]
    DraftOfOneBinder,
    #[error("the pages of this binder are fixed; it has no rings")]
    NoRings,

    // Drafts.
    #[error("this is the real binder")]
    IsReal,
    #[error("the draft is gone")]
    DraftGone,
    #[error("the draft needs a name")]
    DraftNeedsName,
    #[error("this is too long for a name")]
    NameTooLong,
    #[error("a draft of this name is there already")]
    DraftNameTaken,
    #[error("the pages of this binder are fixed, and the draft has others")]
    FixedOtherPages,

    // Sections.
    #[error("there are no sections yet")]
    NoSections,
    #[error("the draft is as its sections make it already")]
    AsSectionsMakeIt,
    #[error("the sections of a draft are those that made it")]
    SectionsOfDraft,
    #[error("the binder has these sections already")]
    HasSections,
    #[error("the binder does not stand as these sections say")]
    NotAsSectionsSay,
    #[error(
        "there are no sections yet, and the binder stands as none of the templates has \
         it: make a draft by one and adopt it first"
    )]
    FollowsNoTemplate,
    #[error("the template needs a name")]
    TemplateNeedsName,
    #[error("it is kept under this name already")]
    TemplateKept,
    #[error("no template of your own has this name")]
    NoOwnTemplate,

    /// What has to be mended in the sections first, in words.
    #[error("{0}")]
    Sections(String),

    // The shelf, and what is called how.
    #[error("the binder stands there already")]
    BinderThere,
    #[error("the symbol is one sign, or none")]
    SymbolTooLong,
    #[error("a shelf number has 12 signs at most")]
    ShelfNumberTooLong,
    #[error("the title is too long")]
    TitleTooLong,
    #[error("the binder is for no set: it has no symbol, no number and no code")]
    NoSetToName,
    #[error("the code is one word without : ; , ( ) and quotes")]
    CodeNoWord,
    #[error("another set has this code")]
    CodeTaken,
    #[error("the name in commands is one word without : ; , ( ) and quotes")]
    NameNoWord,
    #[error("another binder has this name in commands")]
    NameTaken,
    #[error("this run is left out already")]
    LeftOut,
    #[error("this run is collected already")]
    Collected,
    /// What the collection said to a change that was tried out.
    #[error(transparent)]
    Refused(#[from] Refused),
}
