# The physiology kernel is compiled once for each width of the processor's registers (core/stanch/physiology/kernel.hpp).
# -O3, because these few files are where a forecast spends its time. WebAssembly gets one and four lanes,
# without 128-bit instructions: phones older than those must still load the core.
set(physiology ${CMAKE_SOURCE_DIR}/core/stanch/physiology)
set(kernel_flags -O3 -Wno-psabi -fno-math-errno -fno-trapping-math)
foreach(file kernel kernel_1 kernel_4 kernel_8 kernel_16)
  set(flags_${file} ${kernel_flags})
endforeach()
if(CMAKE_SYSTEM_PROCESSOR MATCHES "x86_64|AMD64")
  list(APPEND flags_kernel_8 -mavx2)
  list(APPEND flags_kernel_16 -mavx512f -mavx512dq -mavx512bw -mavx512vl -mprefer-vector-width=512
       -Wno-maybe-uninitialized -Wno-uninitialized)  # g++ 12 raises them wrongly on its own square root
else()
  list(REMOVE_ITEM core_sources ${physiology}/kernel_8.cpp ${physiology}/kernel_16.cpp)
endif()
foreach(file kernel kernel_1 kernel_4 kernel_8 kernel_16)
  set_source_files_properties(${physiology}/${file}.cpp PROPERTIES COMPILE_OPTIONS "${flags_${file}}")
endforeach()
