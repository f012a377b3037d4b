//! The site: paved areas with corners and edge kinds, structures, and the extents of base and dig.
//!
//! In: outlines as the job writes them, points already placed. Out: lettered corners, named edges
//! with a kind for every stretch, the paved union, base outline and dig outline.

pub mod corners;
pub mod extents;
mod faults;
pub mod kinds;
pub mod model;
pub mod offset;
pub mod outline;
pub mod resolve;
mod rings;
pub mod spec;
pub mod start;
mod swath;

pub use extents::{Extents, OpenRun, Region, extents};
pub use faults::LARGEST_KM;
pub use model::{
    Against, Corner, NoteKind, OutlineItem, ROUND, Site, SiteArea, SiteEdge, SiteError, SiteNote,
    SitePlace, SiteRing, Stretch, edge_named, edge_told,
};
pub use resolve::{lettered, resolve};
pub use spec::{
    AreaSpec, CornerSpec, EdgeKind, EdgeSpec, OutlineSpec, ServiceKind, ServiceSpec, ServiceTop,
    StartSpec, StructureKind, StructureSpec,
};
pub use start::StartFault;
