#pragma once
// One state object of every type that asks for it: a panel or a tool keeps what it works with in a header of its own,
// and the session need not know it. Made when first asked for, kept until the session ends.

#include <any>
#include <memory>
#include <typeindex>
#include <unordered_map>

namespace padchart::app {

class Desks {
public:
    /// The one of that type, made with its default constructor where it is not there yet.
    template <class Desk>
    [[nodiscard]] Desk& get() {
        std::any& slot = desks_[std::type_index(typeid(Desk))];
        if (!slot.has_value()) slot = std::make_shared<Desk>();
        return *std::any_cast<const std::shared_ptr<Desk>&>(slot);
    }

    /// Null where nobody has asked for it yet.
    template <class Desk>
    [[nodiscard]] const Desk* find() const {
        const auto found = desks_.find(std::type_index(typeid(Desk)));
        return found == desks_.end() ? nullptr : std::any_cast<const std::shared_ptr<Desk>&>(found->second).get();
    }

private:
    std::unordered_map<std::type_index, std::any> desks_;
};

} // namespace padchart::app
