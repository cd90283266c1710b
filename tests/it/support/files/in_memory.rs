//! A file system in memory: for tests, and for whatever asks what a disk could hold.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt::Debug;
use std::fs::TryLockError;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::rc::{Rc, Weak};
use std::time::Duration;

use ringbound::store::files::{Files, OpenFile};

/// Folders and files. Clones are the same one.
#[derive(Clone, Debug, Default)]
pub(crate) struct InMemory(Rc<RefCell<Tree>>);

#[derive(Debug, Default)]
struct Tree {
    names: BTreeMap<PathBuf, Node>,
    locks: BTreeMap<PathBuf, Weak<()>>,
}

#[derive(Clone, Debug)]
enum Node {
    Folder,
    /// Shared by all of its names and by who has it open.
    File(Rc<RefCell<Vec<u8>>>),
}

fn error<T>(kind: ErrorKind) -> io::Result<T> {
    Err(kind.into())
}

impl InMemory {
    /// Puts a file there, and the folders above it.
    pub(crate) fn put(&self, path: &Path, bytes: impl Into<Vec<u8>>) {
        if let Some(folder) = path.parent() {
            self.put_folder(folder);
        }
        let node = Node::File(Rc::new(RefCell::new(bytes.into())));
        self.0.borrow_mut().names.insert(path.to_owned(), node);
    }

    /// Puts a folder there, and those above it.
    pub(crate) fn put_folder(&self, path: &Path) {
        let mut tree = self.0.borrow_mut();
        for folder in path.ancestors() {
            tree.names.insert(folder.to_owned(), Node::Folder);
        }
    }

    /// Every file with its bytes, by path.
    pub(crate) fn files(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let tree = self.0.borrow();
        let files = tree.names.iter().filter_map(|(path, node)| match node {
            Node::Folder => None,
            Node::File(bytes) => Some((path.clone(), bytes.borrow().clone())),
        });
        files.collect()
    }

    fn node(&self, path: &Path) -> Option<Node> {
        match self.0.borrow().names.get(path) {
            None if path.parent().is_none() => Some(Node::Folder),
            found => found.cloned(),
        }
    }

    /// Gives a node a name that nothing has yet.
    fn add(&self, path: &Path, node: Node) -> io::Result<()> {
        match path.parent().and_then(|folder| self.node(folder)) {
            Some(Node::Folder) if self.node(path).is_some() => error(ErrorKind::AlreadyExists),
            Some(Node::Folder) => {
                self.0.borrow_mut().names.insert(path.to_owned(), node);
                Ok(())
            }
            Some(Node::File(_)) => error(ErrorKind::NotADirectory),
            None => error(ErrorKind::NotFound),
        }
    }
}

impl Files for InMemory {
    fn read(&self, path: &Path, most: u64) -> io::Result<Option<Vec<u8>>> {
        match self.node(path) {
            None => Ok(None),
            Some(Node::Folder) => error(ErrorKind::IsADirectory),
            Some(Node::File(bytes)) if bytes.borrow().len() as u64 > most => {
                error(ErrorKind::FileTooLarge)
            }
            Some(Node::File(bytes)) => Ok(Some(bytes.borrow().clone())),
        }
    }

    fn exists(&self, path: &Path) -> io::Result<bool> {
        Ok(self.node(path).is_some())
    }

    fn is_folder(&self, path: &Path) -> bool {
        matches!(self.node(path), Some(Node::Folder))
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        Ok(path.to_owned())
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        let tree = self.0.borrow();
        let inside = tree.names.keys().filter(|p| p.parent() == Some(folder));
        Ok(inside.cloned().collect())
    }

    fn modified(&self, _path: &Path) -> io::Result<Duration> {
        error(ErrorKind::Unsupported)
    }

    fn create_new(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        let bytes = Rc::new(RefCell::new(Vec::new()));
        self.add(path, Node::File(bytes.clone()))?;
        Ok(Box::new(Open(bytes)))
    }

    fn open_end(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        match self.node(path) {
            None => error(ErrorKind::NotFound),
            Some(Node::Folder) => error(ErrorKind::IsADirectory),
            Some(Node::File(bytes)) => Ok(Box::new(Open(bytes))),
        }
    }

    fn create_folder(&self, path: &Path) -> io::Result<()> {
        self.add(path, Node::Folder)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let Some(node @ Node::File(_)) = self.node(from) else {
            return error(ErrorKind::NotFound);
        };
        let mut tree = self.0.borrow_mut();
        tree.names.remove(from);
        tree.names.insert(to.to_owned(), node);
        Ok(())
    }

    fn link(&self, from: &Path, to: &Path) -> io::Result<()> {
        match self.node(from) {
            Some(node @ Node::File(_)) => self.add(to, node),
            _ => error(ErrorKind::NotFound),
        }
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        match self.0.borrow_mut().names.remove(path) {
            Some(_) => Ok(()),
            None => error(ErrorKind::NotFound),
        }
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        match self.node(path) {
            Some(Node::Folder) => Ok(()),
            _ => error(ErrorKind::NotFound),
        }
    }

    fn lock(&self, path: &Path) -> Result<Box<dyn Debug>, TryLockError> {
        if self.is_locked(path) {
            return Err(TryLockError::WouldBlock);
        }
        match self.node(path) {
            Some(Node::File(_)) => {}
            Some(Node::Folder) => return Err(TryLockError::Error(ErrorKind::IsADirectory.into())),
            None => drop(self.create_new(path).map_err(TryLockError::Error)?),
        }
        let held = Rc::new(());
        let mut tree = self.0.borrow_mut();
        tree.locks.insert(path.to_owned(), Rc::downgrade(&held));
        Ok(Box::new(held))
    }

    fn is_locked(&self, path: &Path) -> bool {
        let tree = self.0.borrow();
        tree.locks.get(path).is_some_and(|l| l.strong_count() > 0)
    }
}

#[derive(Debug)]
struct Open(Rc<RefCell<Vec<u8>>>);

impl OpenFile for Open {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.borrow_mut().extend_from_slice(bytes);
        Ok(())
    }

    fn sync(&mut self) -> io::Result<()> {
        Ok(())
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        self.0.borrow_mut().resize(length as usize, 0);
        Ok(())
    }
}
