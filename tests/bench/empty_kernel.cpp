// An empty program linked to every kernel library that the STEP writer needs: what loading them costs.
#include <STEPControl_Writer.hxx>

int main(int argc, char**) {
    if (argc > 100) STEPControl_Writer writer;
    return 0;
}
