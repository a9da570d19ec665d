// Customers and their boats.
#pragma once

#include <string>
#include <vector>

#include "shop/store.h"

namespace spile::shop {

struct Customer {
    Id id = 0;  ///< 0: new
    std::string name, phone, email, address, notes;
    Seconds created = 0;
};

struct Boat {
    Id id = 0;  ///< 0: new
    Id customer = 0;
    std::string name, make, model, hull_number, berth, notes;
    int year = 0;  ///< built; 0: not known
    Seconds created = 0;
};

/// Adds (id 0) or changes. On bad input: "name-missing", "not-there".
Result<Customer> save_customer(Store& store, const Customer& customer);
Result<Customer> read_customer(Store& store, Id id);
/// Every word must occur in name, phone, email or address. By name.
Result<std::vector<Customer>> find_customers(Store& store, const std::string& text, std::size_t limit = 50,
                                             std::size_t skip = 0);
/// On bad input: "refers-to-it" while a boat or a job is theirs.
Result<Done> remove_customer(Store& store, Id id);

/// Adds (id 0) or changes. On bad input: "not-there" (customer); "year-refused" outside 1800 to 2200; "name-missing"
/// when name, make and model are all empty.
Result<Boat> save_boat(Store& store, const Boat& boat);
Result<Boat> read_boat(Store& store, Id id);
/// Every word must occur in name, make, model, year, hull number or berth. `customer` 0: of all. By make, model, name.
Result<std::vector<Boat>> find_boats(Store& store, const std::string& text, Id customer = 0,
                                     std::size_t limit = 50, std::size_t skip = 0);
/// On bad input: "refers-to-it" while a job is for it.
Result<Done> remove_boat(Store& store, Id id);

}  // namespace spile::shop
