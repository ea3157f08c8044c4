#pragma once
// A few typed fields and the button below them, by keys: Enter in a field presses the button, Tab goes from the last
// field to the button and from there to the first one, never to a field of another section.

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

    /// Enter has ended one of them in this frame.
    [[nodiscard]] bool is_entered() const { return entered_; }
    /// Right after the button. True where Tab on it leads to the first field, which the caller gives the pen.
    [[nodiscard]] bool lead(Ui& ui) const;

private:
    int drawn_ = 0;
    bool entered_ = false;
    bool pen_in_first_ = false, pen_in_last_ = false;
};

} // namespace padchart::app
