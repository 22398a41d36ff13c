// The parts of Asio and Beast that need compiling only once.
#include <utility>  // Boost 1.74's awaitable.hpp uses std::exchange and doesn't include this

#include <boost/asio/impl/src.hpp>
#include <boost/asio/ssl/impl/src.hpp>
#include <boost/beast/src.hpp>
