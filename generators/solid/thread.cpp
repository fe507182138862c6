#include "solid/thread.hpp"

#include "solid/kernel_call.hpp"
#include "solid/thread_frame.hpp"

namespace fitup::solid {
namespace {

template <class Finish>
ThreadSkin closed_skin(ThreadFrame& frame, Finish finish) {
    Chamfer start(frame, 0);
    make_strips(frame, start.edges(), finish.edges());
    ThreadSkin skin;
    skin.start = start.close();
    skin.finish = finish.close();
    skin.faces = frame.take_faces();
    return skin;
}

}  // namespace

ThreadSkin thread_skin(const plan::ThreadedLength& of, const gp_Trsf& place) {
    if (!(of.length_mm > of.least_length_mm())) throw KernelError("a thread is shorter than its chamfers");
    return kernel_call("a thread", [&] {
        ThreadFrame frame(of, place);
        if (of.finish == plan::ThreadEnd::chamfer) return closed_skin(frame, Chamfer(frame, 1));
        return closed_skin(frame, RunOut(frame));
    });
}

}  // namespace fitup::solid
