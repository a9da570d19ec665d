// The JSON of answers: keys in the order they came, entries that never move.
#pragma once

#include <iterator>
#include <list>
#include <nlohmann/json.hpp>
#include <utility>

namespace spile::surface {

/// What nlohmann::json keeps a group in. Its own ordered map is a vector of pairs with constant keys, which cannot be moved:
/// whenever one grows, everything below it is copied, and that was most of the time of an answer.
template <class Key, class T, class Less = std::less<>,
          class Allocator = std::allocator<std::pair<const Key, T>>>
struct ListedMap : std::list<std::pair<const Key, T>, Allocator> {
    using Container = std::list<std::pair<const Key, T>, Allocator>;
    using key_type = Key;
    using mapped_type = T;
    using key_compare = Less;
    using Container::Container;
    using Container::erase;
    using typename Container::const_iterator;
    using typename Container::iterator;
    using typename Container::size_type;
    using typename Container::value_type;

    template <class K>
    iterator find(const K& key) {
        for (auto it = this->begin(); it != this->end(); ++it)
            if (it->first == key) return it;
        return this->end();
    }
    template <class K>
    const_iterator find(const K& key) const {
        for (auto it = this->begin(); it != this->end(); ++it)
            if (it->first == key) return it;
        return this->end();
    }
    template <class K>
    size_type count(const K& key) const {
        return find(key) == this->end() ? 0 : 1;
    }
    template <class K, class V>
    std::pair<iterator, bool> emplace(K&& key, V&& value) {
        const iterator there = find(key);
        if (there != this->end()) return {there, false};
        this->emplace_back(std::forward<K>(key), std::forward<V>(value));
        return {std::prev(this->end()), true};
    }
    std::pair<iterator, bool> insert(const value_type& entry) { return emplace(entry.first, entry.second); }
    template <class From>
    void insert(From first, From last) {
        for (; first != last; ++first) insert(*first);
    }
    template <class K>
    T& operator[](K&& key) {
        return emplace(std::forward<K>(key), T{}).first->second;
    }
    template <class K>
    T& at(const K& key) {
        return find(key)->second;
    }
    template <class K>
    const T& at(const K& key) const {
        return find(key)->second;
    }
    size_type erase(const Key& key) {
        const iterator there = find(key);
        if (there == this->end()) return 0;
        Container::erase(there);
        return 1;
    }
};

using Json = nlohmann::basic_json<ListedMap>;

}  // namespace spile::surface
