//! The metadata of the file as an XMP packet (ISO 16684-1): what the document information says,
//! in the form that archives and search programs read.

use lopdf::{Dictionary, Document, Object, Stream};

use super::super::plain;
use super::Meta;
use super::patch::{CREATOR, name};

/// Adds the packet to the catalog.
pub(super) fn set(document: &mut Document, meta: &Meta) {
    let mut entries = Dictionary::new();
    entries.set("Type", name("Metadata"));
    entries.set("Subtype", name("XML"));
    // Left as it is, so that programs that know no PDF find it.
    entries.set("Filter", Object::Array(Vec::new()));
    let stream = Stream::new(entries, packet(meta).into_bytes()).with_compression(false);
    let id = document.add_object(stream);
    if let Ok(catalog) = document.catalog_mut() {
        catalog.set("Metadata", Object::Reference(id));
    }
}

/// The packet; what the job does not state is left out.
fn packet(meta: &Meta) -> String {
    let alternative = |tag: &str, words: &str| {
        let words = escaped(words);
        format!(
            "<{tag}><rdf:Alt><rdf:li xml:lang=\"x-default\">{words}</rdf:li></rdf:Alt></{tag}>\n"
        )
    };
    let mut inside = alternative("dc:title", &meta.title);
    if !meta.author.is_empty() {
        let author = escaped(&meta.author);
        inside +=
            &format!("<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>\n");
    }
    if !meta.subject.is_empty() {
        inside += &alternative("dc:description", &meta.subject);
    }
    if !meta.language.is_empty() {
        let language = escaped(&meta.language);
        inside +=
            &format!("<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>\n");
    }
    if let Some(date) = &meta.date {
        inside += &format!("<xmp:CreateDate>{}</xmp:CreateDate>\n", escaped(date));
    }
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n\
         <dc:format>application/pdf</dc:format>\n{inside}\
         <xmp:CreatorTool>{CREATOR}</xmp:CreatorTool>\n<pdf:Producer>{CREATOR}</pdf:Producer>\n\
         </rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>\n"
    )
}

/// Text inside an element.
fn escaped(words: &str) -> String {
    let words = plain(words).replace('&', "&amp;");
    words.replace('<', "&lt;").replace('>', "&gt;")
}
