#include "app/urgency.hpp"

#include <sys/resource.h>
#include <unistd.h>

namespace padchart::app {
namespace {

// About a third of the share of a thread that does not give way; none is starved.
constexpr int kGivesWay = 5;

} // namespace

void take_urgency(Urgency urgency) {
    // Linux counts it thread by thread, whatever the name of the constant says.
    if (urgency == Urgency::BehindTheWindow) (void)setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), kGivesWay);
}

} // namespace padchart::app
