//! Small collections: sorted vectors and plain sorts for lists of at most a few hundred entries.
//!
//! The standard library's maps and sorts are faster on long lists, but each type they are used with adds kilobytes
//! to the page; these add a few hundred bytes.
use std::cmp::Ordering;

/// A map as a sorted vector of pairs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VecMap<K, V>(Vec<(K, V)>);

impl<K, V> Default for VecMap<K, V> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<K: Ord, V> VecMap<K, V> {
    /// An empty map.
    #[must_use]
    pub const fn new() -> Self {
        Self(Vec::new())
    }
    fn find<Q: Ord + ?Sized>(&self, key: &Q) -> Result<usize, usize>
    where
        K: std::borrow::Borrow<Q>,
    {
        self.0.binary_search_by(|(k, _)| k.borrow().cmp(key))
    }
    /// The value of a key.
    #[must_use]
    pub fn get<Q: Ord + ?Sized>(&self, key: &Q) -> Option<&V>
    where
        K: std::borrow::Borrow<Q>,
    {
        self.find(key).ok().and_then(|at| self.0.get(at)).map(|(_, value)| value)
    }
    /// Whether the key is there.
    #[must_use]
    pub fn contains_key<Q: Ord + ?Sized>(&self, key: &Q) -> bool
    where
        K: std::borrow::Borrow<Q>,
    {
        self.find(key).is_ok()
    }
    /// Puts a value under a key and gives back the one that was there.
    pub fn insert(&mut self, key: K, value: V) -> Option<V> {
        match self.find(&key) {
            Ok(at) => self.0.get_mut(at).map(|pair| std::mem::replace(&mut pair.1, value)),
            Err(at) => {
                self.0.insert(at, (key, value));
                None
            }
        }
    }
    /// Takes a key out.
    pub fn remove<Q: Ord + ?Sized>(&mut self, key: &Q) -> Option<V>
    where
        K: std::borrow::Borrow<Q>,
    {
        let at = self.find(key).ok()?;
        Some(self.0.remove(at).1)
    }
    /// Keeps the pairs that `keep` wants.
    pub fn retain(&mut self, mut keep: impl FnMut(&K, &V) -> bool) {
        self.0.retain(|(key, value)| keep(key, value));
    }
    /// The pairs by rising key.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&K, &V)> + Clone {
        self.0.iter().map(|(key, value)| (key, value))
    }
    /// The keys, rising.
    pub fn keys(&self) -> impl Iterator<Item = &K> {
        self.0.iter().map(|(key, _)| key)
    }
    /// The values by rising key.
    pub fn values(&self) -> impl Iterator<Item = &V> {
        self.0.iter().map(|(_, value)| value)
    }
    /// How many pairs there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }
    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// Takes every pair out.
    pub fn clear(&mut self) {
        self.0.clear();
    }
}

impl<K, V> IntoIterator for VecMap<K, V> {
    type Item = (K, V);
    type IntoIter = std::vec::IntoIter<(K, V)>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<K: Ord, V> Extend<(K, V)> for VecMap<K, V> {
    fn extend<I: IntoIterator<Item = (K, V)>>(&mut self, pairs: I) {
        for (key, value) in pairs {
            self.insert(key, value);
        }
    }
}

impl<K: Ord, V> FromIterator<(K, V)> for VecMap<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(pairs: I) -> Self {
        let mut map = Self::new();
        map.extend(pairs);
        map
    }
}

/// A set of texts as a sorted vector.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TextSet(VecMap<String, ()>);

impl TextSet {
    /// Whether the text is in the set.
    #[must_use]
    pub fn contains(&self, text: &str) -> bool {
        self.0.contains_key(text)
    }
    /// Puts a text in; whether it is new.
    pub fn insert(&mut self, text: String) -> bool {
        self.0.insert(text, ()).is_none()
    }
    /// Takes a text out; whether it was there.
    pub fn remove(&mut self, text: &str) -> bool {
        self.0.remove(text).is_some()
    }
    /// The texts, rising.
    pub fn iter(&self) -> impl Iterator<Item = &String> {
        self.0.keys()
    }
    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }
    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Extend<String> for TextSet {
    fn extend<I: IntoIterator<Item = String>>(&mut self, texts: I) {
        for text in texts {
            self.insert(text);
        }
    }
}

impl FromIterator<String> for TextSet {
    fn from_iter<I: IntoIterator<Item = String>>(texts: I) -> Self {
        let mut set = Self::default();
        set.extend(texts);
        set
    }
}

/// Sorts a short list; equal entries keep their order.
pub fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    for end in 1..items.len() {
        let mut at = end;
        while at > 0
            && matches!((items.get(at - 1), items.get(at)), (Some(a), Some(b)) if compare(a, b) == Ordering::Greater)
        {
            items.swap(at - 1, at);
            at -= 1;
        }
    }
}

/// The order that sorts numbers upwards; equal ones keep their order. For lists of any length.
#[must_use]
pub fn ascending(keys: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..keys.len()).collect();
    order.sort_unstable_by(|a, b| {
        let value = |i: &usize| keys.get(*i).copied().unwrap_or(f64::NAN);
        value(a).total_cmp(&value(b)).then(a.cmp(b))
    });
    order
}

/// Sorts a list of any length by rising key; equal entries keep their order.
pub fn sort_by_number<T>(items: &mut Vec<T>, key: impl Fn(&T) -> f64) {
    let keys: Vec<f64> = items.iter().map(key).collect();
    let mut slots: Vec<Option<T>> = items.drain(..).map(Some).collect();
    for index in ascending(&keys) {
        items.extend(slots.get_mut(index).and_then(Option::take));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_map_keeps_its_keys_apart_and_in_order() {
        let mut map: VecMap<String, i32> = ["b", "a", "c"].into_iter().map(|k| (k.to_owned(), 1)).collect();
        assert_eq!(map.insert("b".into(), 2), Some(1));
        assert_eq!(map.iter().map(|(k, v)| format!("{k}{v}")).collect::<String>(), "a1b2c1");
        assert_eq!(map.remove("a"), Some(1));
        assert_eq!(map.get("a"), None);
        assert_eq!(map.len(), 2);
    }

    #[test]
    fn sorts_keep_equal_entries_in_order() {
        let mut items = vec![(2.0_f64, 'a'), (1.0, 'b'), (2.0, 'c'), (-1.0, 'd'), (1.0, 'e')];
        let mut other = items.clone();
        sort_by(&mut items, |a, b| a.0.total_cmp(&b.0));
        sort_by_number(&mut other, |item| item.0);
        assert_eq!(items.iter().map(|i| i.1).collect::<String>(), "dbeac");
        assert_eq!(items, other);
    }
}
