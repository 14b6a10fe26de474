// reference reads a 3MF file with the consortium's own library in strict mode, and prints
// the number of warnings, then a line for each piece on the plate: its name, its part number
// and the box around it, separated by tabs.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "Model/COM/NMR_DLLInterfaces.h"

using namespace NMR;

static void must(LIB3MFRESULT result) {
  if (result == LIB3MF_OK) return;
  printf("error %x\n", (unsigned)result);
  exit(1);
}

static void piece(PLib3MFModelBuildItem *item) {
  PLib3MFModelObjectResource *object;
  MODELTRANSFORM t;
  char name[512] = "", number[512] = "";
  ULONG needed = 0;
  must(lib3mf_builditem_getobjectresource(item, &object));
  must(lib3mf_builditem_getobjecttransform(item, &t));
  must(lib3mf_object_getnameutf8(object, name, sizeof name, &needed));
  must(lib3mf_object_getpartnumberutf8(object, number, sizeof number, &needed));
  double low[3] = {1e30, 1e30, 1e30}, high[3] = {-1e30, -1e30, -1e30};
  DWORD corners = 0;
  must(lib3mf_meshobject_getvertexcount(object, &corners));
  for (DWORD i = 0; i < corners; i++) {
    MODELMESHVERTEX v;
    must(lib3mf_meshobject_getvertex(object, i, &v));
    for (int k = 0; k < 3; k++) { // the library keeps transforms by columns
      double x = t.m_fFields[k][3];
      for (int row = 0; row < 3; row++) x += v.m_fPosition[row] * t.m_fFields[k][row];
      low[k] = std::min(low[k], x);
      high[k] = std::max(high[k], x);
    }
  }
  printf("%s\t%s\t%.6f\t%.6f\t%.6f\t%.6f\t%.6f\t%.6f\n", name, number, low[0], low[1], low[2], high[0], high[1], high[2]);
  lib3mf_release(object);
}

int main(int, char **argv) {
  PLib3MFModel *model;
  PLib3MFModelReader *reader;
  PLib3MFModelBuildItemIterator *items;
  DWORD warnings = 0;
  BOOL more = 0;
  must(lib3mf_createmodel(&model));
  must(lib3mf_model_queryreader(model, "3mf", &reader));
  must(lib3mf_reader_setstrictmodeactive(reader, 1));
  must(lib3mf_reader_readfromfileutf8(reader, argv[1]));
  must(lib3mf_reader_getwarningcount(reader, &warnings));
  printf("%u\n", (unsigned)warnings);
  must(lib3mf_model_getbuilditems(model, &items));
  while (lib3mf_builditemiterator_movenext(items, &more) == LIB3MF_OK && more) {
    PLib3MFModelBuildItem *item;
    must(lib3mf_builditemiterator_getcurrent(items, &item));
    piece(item);
    lib3mf_release(item);
  }
}
