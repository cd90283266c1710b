//! What a disk may hold after the power was lost: the model of Pillai and others, "All File
//! Systems Are Not Created Equal" (OSDI 2014), section 2, in its weakest form. What was written to
//! a file is sure to be there only after that file was synced, a name only after its folder was;
//! until then each is there or not, in any order, and the last write is there up to any byte.

use std::collections::hash_map::DefaultHasher;
use std::collections::{BTreeMap, HashMap};
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};

use crate::support::files::{InMemory, Op};

#[derive(Clone, Debug)]
enum Data {
    Write(Vec<u8>),
    Truncate(u64),
}

#[derive(Clone, Debug, Default)]
struct Inode {
    durable: Vec<u8>,
    pending: Vec<Data>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Node {
    Folder,
    File(usize),
}

#[derive(Clone, Debug)]
enum Name {
    Add(PathBuf, Node),
    Remove(PathBuf),
    Rename(PathBuf, PathBuf, usize),
}

impl Name {
    fn folder(&self) -> Option<&Path> {
        match self {
            Self::Add(path, _) | Self::Remove(path) | Self::Rename(_, path, _) => path.parent(),
        }
    }

    fn apply(&self, names: &mut BTreeMap<PathBuf, Node>) {
        match self {
            Self::Add(path, node) => {
                names.insert(path.clone(), *node);
            }
            Self::Remove(path) => {
                names.remove(path);
            }
            Self::Rename(from, to, file) => {
                names.remove(from);
                names.insert(to.clone(), Node::File(*file));
            }
        }
    }
}

/// A disk with what is sure to be on it and what is not yet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Power {
    inodes: Vec<Inode>,
    /// Files that are open, by the number of the call that opened them.
    open: HashMap<usize, usize>,
    /// As the program sees them.
    now: BTreeMap<PathBuf, Node>,
    durable: BTreeMap<PathBuf, Node>,
    pending: Vec<Name>,
}

/// What is on a disk after a crash: files by path, `None` for folders.
pub(crate) type Held = BTreeMap<PathBuf, Option<Vec<u8>>>;

impl Power {
    /// A disk on which all of this is sure.
    pub(crate) fn holding(held: &Held) -> Self {
        let mut power = Self::default();
        for (path, bytes) in held {
            let node = match bytes {
                None => Node::Folder,
                Some(bytes) => {
                    power.inodes.push(Inode {
                        durable: bytes.clone(),
                        pending: Vec::new(),
                    });
                    Node::File(power.inodes.len() - 1)
                }
            };
            power.now.insert(path.clone(), node);
        }
        power.durable = power.now.clone();
        power
    }

    fn file(&self, path: &Path) -> usize {
        match self.now.get(path) {
            Some(Node::File(file)) => *file,
            other => panic!("{}: {other:?}", path.display()),
        }
    }

    fn name(&mut self, name: Name) {
        name.apply(&mut self.now);
        self.pending.push(name);
    }

    pub(crate) fn apply(&mut self, op: &Op) {
        match op {
            Op::Create { path, file } => {
                self.inodes.push(Inode::default());
                let inode = self.inodes.len() - 1;
                self.open.insert(*file, inode);
                self.name(Name::Add(path.clone(), Node::File(inode)));
            }
            Op::OpenEnd { path, file } => {
                let inode = self.file(path);
                self.open.insert(*file, inode);
            }
            Op::Write { file, bytes } => {
                let inode = self.open[file];
                self.inodes[inode].pending.push(Data::Write(bytes.clone()));
            }
            Op::Truncate { file, length } => {
                let inode = self.open[file];
                self.inodes[inode].pending.push(Data::Truncate(*length));
            }
            Op::Sync { file } => {
                let inode = &mut self.inodes[self.open[file]];
                inode.durable = content(&inode.durable, &inode.pending, u32::MAX);
                inode.pending.clear();
            }
            Op::CreateFolder { path } => self.name(Name::Add(path.clone(), Node::Folder)),
            Op::Rename { from, to } => {
                let file = self.file(from);
                self.name(Name::Rename(from.clone(), to.clone(), file));
            }
            Op::Link { from, to } => {
                let node = Node::File(self.file(from));
                self.name(Name::Add(to.clone(), node));
            }
            Op::Remove { path } => self.name(Name::Remove(path.clone())),
            Op::SyncFolder { path } => {
                let in_it = |name: &Name| name.folder() == Some(path);
                for name in self.pending.iter().filter(|name| in_it(name)) {
                    name.apply(&mut self.durable);
                }
                self.pending.retain(|name| !in_it(name));
            }
        }
    }

    /// Every state in which a loss of power now may leave the disk, each once, with its hash.
    pub(crate) fn states(&self, mut each: impl FnMut(Held, u64)) {
        assert!(self.pending.len() < 12, "a folder is never synced");
        let mut seen = std::collections::HashSet::new();
        for kept in 0..1u32 << self.pending.len() {
            let mut names = self.durable.clone();
            for (at, name) in self.pending.iter().enumerate() {
                if kept & 1 << at != 0 {
                    name.apply(&mut names);
                }
            }
            // What is in a folder that is not there is not there either.
            let folders = names.clone();
            names.retain(|path, _| {
                path.parent()
                    .is_none_or(|folder| folders.get(folder) == Some(&Node::Folder))
            });
            let mut files: Vec<usize> = names
                .values()
                .filter_map(|node| match node {
                    Node::File(file) => Some(*file),
                    Node::Folder => None,
                })
                .collect();
            files.sort_unstable();
            files.dedup();
            let unsure: Vec<usize> = files
                .into_iter()
                .filter(|file| !self.inodes[*file].pending.is_empty())
                .collect();
            let mut contents = BTreeMap::new();
            self.each_content(&unsure, &mut contents, &mut |contents| {
                let held: Held = names
                    .iter()
                    .map(|(path, node)| {
                        let bytes = match node {
                            Node::Folder => None,
                            Node::File(file) => Some(
                                contents
                                    .get(file)
                                    .unwrap_or(&self.inodes[*file].durable)
                                    .clone(),
                            ),
                        };
                        (path.clone(), bytes)
                    })
                    .collect();
                let hash = hash(&held);
                if seen.insert(hash) {
                    each(held, hash);
                }
            });
        }
    }

    /// Every combination of what the files that are unsure may hold.
    fn each_content(
        &self,
        unsure: &[usize],
        contents: &mut BTreeMap<usize, Vec<u8>>,
        each: &mut impl FnMut(&BTreeMap<usize, Vec<u8>>),
    ) {
        let Some((first, rest)) = unsure.split_first() else {
            each(contents);
            return;
        };
        for bytes in variants(&self.inodes[*first]) {
            contents.insert(*first, bytes);
            self.each_content(rest, contents, each);
        }
        contents.remove(first);
    }
}

pub(crate) fn hash(held: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    held.hash(&mut hasher);
    hasher.finish()
}

/// What a file holds when of these changes those of the mask were done. A write that was lost
/// before one that was not leaves zeros.
fn content(durable: &[u8], pending: &[Data], mask: u32) -> Vec<u8> {
    let mut bytes = durable.to_vec();
    let mut length = bytes.len();
    for (at, data) in pending.iter().enumerate() {
        let done = mask & 1 << at.min(31) != 0;
        match data {
            Data::Write(new) => {
                if done {
                    bytes.resize(length, 0);
                    bytes.extend_from_slice(new);
                }
                length += new.len();
            }
            Data::Truncate(to) => {
                if done {
                    bytes.truncate(*to as usize);
                }
                length = *to as usize;
            }
        }
    }
    bytes
}

/// All that a file may hold: any of the changes done or not, and of each write that was done the
/// bytes up to any place, or these and zeros, or zeros and the bytes behind.
fn variants(inode: &Inode) -> Vec<Vec<u8>> {
    let pending = &inode.pending;
    let mut all = Vec::new();
    for mask in 0..1u32 << pending.len() {
        all.push(content(&inode.durable, pending, mask));
        for (at, data) in pending.iter().enumerate() {
            let Data::Write(new) = data else { continue };
            if mask & 1 << at == 0 {
                continue;
            }
            for cut in 0..new.len() {
                let zeros = |many: usize| std::iter::repeat_n(0, many);
                let torn: [Vec<u8>; 3] = [
                    new[..cut].to_vec(),
                    new[..cut]
                        .iter()
                        .copied()
                        .chain(zeros(new.len() - cut))
                        .collect(),
                    zeros(cut).chain(new[cut..].iter().copied()).collect(),
                ];
                for torn in torn {
                    let mut pending = pending.clone();
                    pending[at] = Data::Write(torn);
                    all.push(content(&inode.durable, &pending, mask));
                }
            }
        }
    }
    all.sort_unstable();
    all.dedup();
    all
}

/// A disk in memory that holds this.
pub(crate) fn disk(held: &Held) -> InMemory {
    let disk = InMemory::default();
    for (path, bytes) in held {
        match bytes {
            None => disk.put_folder(path),
            Some(bytes) => disk.put(path, bytes.clone()),
        }
    }
    disk
}
