#pragma once
// A few typed fields, what is chosen between them and the button below, by keys: Enter in a field presses the button,
// Tab goes from one to the next as they stand, from the button to the first and back with Shift, never to another
// section.

#include <cstddef>
#include <vector>

#include <imgui.h>

#include "app/ui.hpp"

namespace padchart::app {

class FieldRound {
public:
    /// While one of the fields is drawn, in their order.
    class Field {
    public:
        /// As the field itself is labelled.
        Field(Ui& ui, FieldRound& round, const char* label);
        ~Field();
        Field(const Field&) = delete;
        Field& operator=(const Field&) = delete;

    private:
        Ui& ui_;
        FieldRound& round_;
        ImGuiID id_;
        bool had_pen_;
    };

    /// What is chosen, not typed, was drawn just now in its place of the order.
    void add_choice(ImGuiID id);
    /// Enter has ended one of the fields in this frame.
    [[nodiscard]] bool is_entered() const { return entered_; }
    /// Right after the button, which ends the round.
    void lead(Ui& ui);

private:
    struct Stop {
        ImGuiID id = 0;
        bool is_typed = false;
        bool has_keys = false;
        ImVec2 min, max; ///< px
    };
    static void go_to(Ui& ui, const Stop& stop);

    std::vector<Stop> stops_;
    bool entered_ = false;
};

} // namespace padchart::app
