//! The words that every sheet carries: cautions, and the order of work with its hold points.
//!
//! In: what of the words depends on the job, ready to print. Out: blocks of text. The order and
//! the tolerances are common practice, no source; the words are our own.

use super::column::{Block, Entry, Parting};
use super::words::sentence;
use crate::job::Audience;
use crate::language::{Languages, Phrase, phrase};

/// What the order of work takes from the job, ready to print.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Work {
    /// How the corners are proved once they stand.
    pub proof: Phrase,
    /// Whether stakes outside the dig hold the corners.
    pub stakes: bool,
    /// Buried services near the dig, by name; none without any.
    pub services: Option<Phrase>,
    /// Depth from finish to formation.
    pub depth: Phrase,
    /// How far the dig runs past open edges.
    pub past: String,
    /// Fill that the formation needs where it stands above the ground; none without.
    pub fill: Option<String>,
    /// Lap of the geotextile.
    pub lap: String,
    /// Bedding as spread and once compacted.
    pub bedding: [String; 2],
    /// Rail diameter and spacing; none where no part of the base has room for rails.
    pub rails: Option<[Phrase; 2]>,
    /// Whether the base breaks into parts, each with its own rails.
    pub in_parts: bool,
    /// From where the panels are laid.
    pub panels: Phrase,
    /// Least distance between cross joints.
    pub stagger: String,
    /// From where the pavers are laid.
    pub paving: Phrase,
    /// When the border courses are laid, and their corners; none without any.
    pub border: Option<Phrase>,
    /// Nail, and how many holes between nails, on straight edges and on curves.
    pub nails: Phrase,
    /// Each curve and the radius that its pieces are bent to; none without curves.
    pub bends: Option<Phrase>,
    /// How pavers or slabs are settled.
    pub settle: Phrase,
    /// Side of the test patch.
    pub patch: String,
    /// Passes of mist, and for how long the joints stay dry after them.
    pub mist: [Phrase; 2],
    /// The gullies and channels that are set, by name; none without any.
    pub drains: Option<String>,
    /// How far the jointing material stays below the pavers' top.
    pub below: String,
    /// Edges outside which the ground stands above the finish; none where it lies low enough.
    pub graded: Option<String>,
    /// Tolerance of finished surfaces, such as ±1/8″.
    pub tolerance: String,
    /// Tolerance of the formation.
    pub rough: String,
}

/// Order of work with hold points.
pub fn order_of_work(work: &Work, languages: Languages) -> Block {
    let steps = [
        Some(corners_step(work)),
        work.stakes.then(|| phrase!("Drive the offset stakes outside the dig and mark them as their table says: strings at the heights it gives bring back corners and finish once the ground is open.")),
        by_hand_step(work),
        Some(dig_step(work)),
        fill_step(work),
        Some(phrase!("Compact the bottom of the dig. Stop where it pumps or rings hollow, and ask.")),
        Some(phrase!("Lay the geotextile flat, laps {lap}, without folds.", lap = &work.lap)),
        // Before the bedding is spread round them.
        drains_step(work),
        Some(rails_step(work)),
        Some(bedding_step(work)),
        Some(phrase!(
            "Lay panels, locking sides together: {starts}. First pieces as marked at each course. Cross joints of neighbouring courses at least {stagger} apart; never four corners together. Trim only with the saw outside the base.",
            starts = &work.panels,
            stagger = &work.stagger
        )),
        Some(phrase!(
            "HOLD: panel tops at every corner within {tolerance} of their level, flat between them, tight and not rocking; edges of the base in line.",
            tolerance = &work.tolerance
        )),
        Some(pavers_step(work)),
        Some(edge_step(work)),
        Some(phrase!(
            "Sweep dry jointing material in until joints are full to {below} below the top; {settle}; refill; sweep every grain off before wetting.",
            below = &work.below,
            settle = &work.settle
        )),
        Some(wetting_step(work)),
        Some(backfill_step(work)),
    ];
    let numbered = steps.into_iter().flatten().zip(1..);
    let entries = numbered
        .map(|(step, number)| Entry::marked(&format!("{number}."), languages.lines(&step)))
        .collect();
    Block {
        // Read step by step on site: it is parted only where no sheet takes it whole.
        parting: Parting::Whole,
        ..Block::paragraphs(languages.label(&phrase!("Order of work")), entries)
    }
}

/// The step of the corners.
fn corners_step(work: &Work) -> Phrase {
    phrase!(
        "Have buried utilities located and marked. Set out the corners by the ties; {proof}. HOLD: corners within {tolerance} and the way the water runs agreed.",
        proof = &work.proof,
        tolerance = &work.tolerance
    )
}

/// The step where buried services come near the dig.
fn by_hand_step(work: &Work) -> Option<Phrase> {
    let services = work.services.as_ref()?;
    Some(phrase!(
        "Dig by hand within the band that the plan shows along each buried service, no machine there: {services}.",
        services
    ))
}

/// The step of the dig.
fn dig_step(work: &Work) -> Phrase {
    phrase!(
        "Dig to the formation level, {depth} below finish, {past} past open edges. Keep the fall in the bottom of the dig. HOLD: formation at every corner within {rough} of its level in the table of levels; soft spots dug out and filled.",
        depth = &work.depth,
        past = &work.past,
        rough = &work.rough
    )
}

/// The step where the formation stands above the ground.
fn fill_step(work: &Work) -> Option<Phrase> {
    let fill = work.fill.as_ref()?;
    Some(phrase!(
        "Where the ground lies below the formation, strip what grows there and bring in fill, {fill} in place, compacted layer by layer up to the formation.",
        fill
    ))
}

/// The step of gullies and channels.
fn drains_step(work: &Work) -> Option<Phrase> {
    let drains = work.drains.as_ref()?;
    Some(phrase!(
        "Set {drains} by the ties of the set-out, rims at the levels of the drains’ table; what they stand on and drain to is by others. HOLD: rims within {tolerance}.",
        drains,
        tolerance = &work.tolerance
    ))
}

/// The step of the screed rails.
fn rails_step(work: &Work) -> Phrase {
    let [loose, _] = &work.bedding;
    let Some([rail, spacing]) = &work.rails else {
        return phrase!(
            "Spread bedding and strike it off at {loose} from its sides: there is no room for rails.",
            loose
        );
    };
    match work.in_parts {
        false => phrase!(
            "Set rails of {rail} on the fall, {spacing} apart, packed to the levels of the table; spread bedding and strike it off at {loose}. Lift the rails, fill their tracks.",
            rail,
            spacing,
            loose
        ),
        true => phrase!(
            "Set rails of {rail} on the fall, {spacing} apart, packed to the levels of the table, each part of the base with its own: none crosses a step or a fold. Spread bedding and strike it off at {loose}, part by part. Lift the rails, fill their tracks.",
            rail,
            spacing,
            loose
        ),
    }
}

/// The step of compacting the bedding.
fn bedding_step(work: &Work) -> Phrase {
    let [loose, compacted] = &work.bedding;
    phrase!(
        "Compact the bedding with a plate compactor from {loose} to {compacted}; prove it first by a test patch {patch} square. HOLD: the patch settles from {loose} to {compacted}; bedding at every corner within {tolerance} of its level. Keep off it until panels lie.",
        loose,
        compacted,
        patch = &work.patch,
        tolerance = &work.tolerance
    )
}

/// The step of wetting the joints.
fn wetting_step(work: &Work) -> Phrase {
    let [passes, dry] = &work.mist;
    phrase!(
        "Wet the joints with {passes} of fine mist, each soaked in before the next, never flooded. HOLD: surface clean before the first pass; no rain, traffic or sprinkler for {dry} after the last.",
        passes,
        dry
    )
}

/// The last step; ground that would hold the water is graded off before it.
fn backfill_step(work: &Work) -> Phrase {
    match &work.graded {
        None => phrase!(
            "Backfill beside the restraint below the pavers' edge, so that water leaves. HOLD: fall checked with a level, client walks the job."
        ),
        Some(edges) => phrase!(
            "Grade the ground outside these edges below the finish and away from the paving: {edges}. Backfill beside the restraint below the pavers' edge, so that water leaves. HOLD: fall checked with a level, client walks the job.",
            edges
        ),
    }
}

/// The step of the pavers; border courses follow their field.
fn pavers_step(work: &Work) -> Phrase {
    let starts = &work.paving;
    match &work.border {
        None => phrase!(
            "Lay pavers, joint lines straight by a string, closers cut last: {starts}.",
            starts
        ),
        Some(border) => phrase!(
            "Lay pavers, joint lines straight by a string, closers cut last: {starts}. {border}",
            starts,
            border
        ),
    }
}

/// The step of the edge restraint; curves are named with their radius.
fn edge_step(work: &Work) -> Phrase {
    let nails = &work.nails;
    match &work.bends {
        None => phrase!(
            "Set the edge restraint tight against the pavers and nail it through the base: {nails}.",
            nails
        ),
        Some(bends) => phrase!(
            "Bend the edge restraint before it is laid: {bends}. Set it tight against the pavers and nail it through the base: {nails}.",
            bends,
            nails
        ),
    }
}

/// The cautions that every sheet carries, and that of slabs where `slabs` are laid; `others` are what
/// this job shows that others must design. A bid sheet leaves out those that only concern whoever
/// does the work.
pub fn cautions(others: &[Phrase], slabs: bool, audience: Audience, languages: Languages) -> Block {
    let first = phrase!(
        "Before any digging, have every buried pipe and cable located and marked by its owner."
    );
    let mut work = vec![
        phrase!(
            "Cutting dust harms lungs: cut wet or with extraction; wear a fitted respirator, eye and ear protection, gloves."
        ),
        phrase!(
            "Saw and compactor: guards on, hands and feet clear, nobody in line with the blade."
        ),
        phrase!("Lift pavers, panels and rolls in pairs or by cart; small loads, straight backs."),
    ];
    if slabs {
        work.push(phrase!(
            "No plate compactor on slabs: they crack. Use a roller or a mallet."
        ));
    }
    let always = [
        phrase!("Water must run away from every structure, during the work and after it."),
        phrase!("Local codes and licensed practice govern over this sheet."),
        phrase!("This sheet sizes no wall, footing, guard or stair; others must design them."),
    ];
    let work = work.iter().filter(|_| audience == Audience::Crew);
    let mut entries: Vec<Entry> = std::iter::once(&first)
        .chain(work)
        .chain(&always)
        .map(|caution| Entry::marked("!", languages.lines(caution)))
        .collect();
    let others = others.iter();
    // A caution may begin with the name of a service as the job writes it.
    let whole = |caution: &Phrase| {
        let lines = languages.lines(caution);
        lines.lines().map(sentence).collect::<Vec<_>>().join("\n")
    };
    entries.extend(others.map(|caution| Entry::strong("!", whole(caution))));
    Block::paragraphs(languages.label(&phrase!("Cautions")), entries)
}
